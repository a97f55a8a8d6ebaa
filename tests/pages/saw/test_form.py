"""The form at the saw, read or refused field by field."""

from __future__ import annotations

import pytest

from api.pages.saw.form import Read, Shown, Typed, read_form
from api.pages.saw.tail import Tail
from api.plans.cutting import Outcome
from nesting.units import inches, mm
from tests.pages.saw.sheets import TRIMMED, plan_of, sheet_of


@pytest.fixture
def tail() -> Tail:
    """Give the tail of a bar that should leave 40 mm."""
    return sheet_of(plan_of(("610",) * 4, 2500, TRIMMED)).tail


def read(expected: Tail, **typed: object) -> Read:
    """Read a form of a cut bar."""
    return read_form(Typed(outcome="cut", **typed), expected)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "unit", "length"),
    [
        ("41", "mm", mm(41)),
        ("41,5", "mm", mm("41.5")),
        ("1 5/8", "in", inches("1 5/8")),
        ("1 5/8 in", "mm", inches("1 5/8")),
        ("", "mm", None),
    ],
)
def test_a_bare_tail_is_in_the_unit_the_form_was_shown_in(
    tail: Tail, text: str, unit: str, length: int | None
) -> None:
    """1 5/8 in are 41.275 mm; a tail left empty is as planned, which the service knows."""
    report = read(tail, tail=text, unit=unit).report
    assert report is not None
    assert (report.outcome, report.tail_nm) == (Outcome.CUT, length)


def test_a_tail_that_could_be_two_is_refused_beside_its_field(tail: Tail) -> None:
    """A thousand and a half, or one and a half: nothing is guessed."""
    found = read(tail, tail="1,250")
    assert found.report is None
    assert set(found.faults) == {"tail"}


def test_a_doubtful_tail_is_asked_back_once(tail: Tail) -> None:
    """51 where 40 should be: measure again; said to be sure, it is taken; with a spoiled piece it may be."""
    assert "sure" in read(tail, tail="51").faults
    assert read(tail, tail="51", sure=True).report is not None
    assert read(tail, tail="51", spoiled=("OY-L1",)).report is not None


def test_only_a_bar_that_was_cut_has_a_tail(tail: Tail) -> None:
    """A bar set aside keeps its note; what a form may still hold of a cut is left out."""
    typed = Typed(outcome="defect", made="0", final=True, tail="41", place="A1", note="dent")
    report = read_form(typed, tail).report
    assert report is not None
    assert (report.tail_nm, report.place, report.note) == (None, "", "dent")


def test_what_is_good_of_a_damaged_bar_is_read_without_a_doubt(tail: Tail) -> None:
    """Its rest has nothing to do with the tail it should have left."""
    typed = Typed(outcome="defect", made="1", final=True, rest="1800", place="A1")
    report = read_form(typed, tail).report
    assert report is not None
    assert (report.made, report.tail_nm, report.place) == (1, mm(1800), "A1")


@pytest.mark.parametrize(
    ("typed", "field", "most"),
    [
        (Typed(outcome="defect", made="1", final=True, rest="1100 m"), "rest", "1000 m"),
        (Typed(outcome="cut", tail="1100000", sure=True), "tail", "1000000 mm"),
        (Typed(outcome="cut", came=(("OY-L1", "4000 ft"),)), "spoiled", "~3280 ft 10 5/64 in"),
    ],
)
def test_a_measure_longer_than_any_bar_is_refused_beside_its_field(
    tail: Tail, typed: Typed, field: str, most: str
) -> None:
    """A unit typed wrong: the form says beside the field how much it may be, in the unit that was typed."""
    faults = read_form(typed, tail).faults
    assert set(faults) == {field}
    assert f"no bar is longer than {most}" in faults[field]


@pytest.mark.parametrize("made", ["", "two", "-1", "99999", "\u00b2"])
def test_cuts_made_are_a_plain_number(tail: Tail, made: str) -> None:
    """A form that was tampered with or not filled in is asked back, not guessed at."""
    assert set(read_form(Typed(outcome="defect", made=made, final=True), tail).faults) == {"made"}


@pytest.mark.parametrize("outcome", ["defect", "missing"])
def test_a_bar_is_given_up_on_purpose_only(tail: Tail, outcome: str) -> None:
    """One tap on a wet screen gives no bar up."""
    assert set(read_form(Typed(outcome=outcome, made="0"), tail).faults) == {"final"}
    assert read_form(Typed(outcome=outcome, made="0", final=True), tail).report is not None


def test_each_form_shows_its_own_words_again() -> None:
    """What is wrong with one way of reporting a bar is not told beside another."""
    shown = Shown(Typed(outcome="defect"), {"made": "?"})
    assert (shown.of("defect"), shown.of("missing")) == (shown, Shown())


def test_every_fault_is_said_at_once(tail: Tail) -> None:
    """A strange outcome and an endless place each have their words."""
    assert set(read_form(Typed(outcome="sold"), tail).faults) == {"outcome"}
    assert set(read(tail, place="x" * 201, note="y" * 201).faults) == {"place", "note"}


def test_what_came_out_of_a_piece_is_kept_for_another(tail: Tail) -> None:
    """Marked and measured, measured alone, marked alone: the third one is scrap. No tail is doubted."""
    typed = Typed(
        outcome="cut",
        tail="52",
        spoiled=("a", "c"),
        came=(("a", "598"), ("b", "23 1/2 in"), ("c", ""), ("d", "")),
    )
    assert typed.wrong == ("a", "c", "b")
    report = read_form(typed, tail).report
    assert report is not None
    # 23 1/2 in = 596.9 mm.
    assert [(one.piece, one.length_nm) for one in report.miscuts] == [("a", mm(598)), ("b", mm("596.9"))]
    assert report.spoiled == ["c"]
    assert read_form(Typed(outcome="cut", came=(("a", "short"),)), tail).faults.keys() == {"spoiled"}
