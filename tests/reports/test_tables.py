from __future__ import annotations

from dataclasses import replace

from nesting.domain.made import BarState
from nesting.errors import Finding, Severity, Where
from nesting.reports.tables import (
    account_rows,
    alike_bars,
    allowances,
    assumption_rows,
    given_words,
    part_words,
)
from nesting.units import mm
from tests.reports.plans import COVER_SAW, SAW, example_plan

PLAN = example_plan()


def test_the_accounts_add_up_exactly() -> None:
    """Used = good + kerf + trim + returned + scrap in every row, and the last row is the sum."""
    rows = account_rows(PLAN)
    assert rows[-1].name == "all"
    for row in rows:
        t = row.totals
        assert t.used == t.good + t.kerf + t.trim + t.returned + t.scrap
    assert rows[-1].totals.used == sum(row.totals.used for row in rows[:-1])


def test_one_material_needs_no_sum_row() -> None:
    """A sum of one row would be read twice."""
    assert len(account_rows(replace(PLAN, groups=PLAN.groups[:1]))) == 1


def test_saws_are_listed_once_each() -> None:
    """A cover saw like the channel saw is one saw."""
    assert assumption_rows(PLAN) == (("channel saw", SAW), ("cover saw", COVER_SAW))
    same = replace(PLAN, request=replace(PLAN.request, cover_saw=SAW))
    assert assumption_rows(same) == (("saw", SAW),)


def test_allowances_name_every_rule_of_the_saw() -> None:
    """k, h, e, keep, grip and step are all told."""
    assert [length for _, _, length in allowances(SAW)] == [mm(3), mm(8), mm(8), mm(400), mm(150), mm("0.5")]


def test_bars_alike_are_told_once_with_all_their_numbers() -> None:
    """Bars 12 to 14 carry 1803.5 + 592 each; nothing else in the group repeats."""
    found = [alike.numbers for alike in alike_bars(PLAN.groups[3])]
    assert found == [(10,), (11,), (12, 13, 14), (15,), (16,), (17,), (18,), (19,)]


def test_bars_the_shop_has_treated_differently_are_not_alike() -> None:
    """A bar that is cut is not drawn for one that still lies there."""
    group = PLAN.groups[3]
    (one,) = (alike for alike in alike_bars(group) if len(alike.numbers) > 1)
    cut = one.numbers[0]
    bars = tuple(replace(b, state=BarState.DONE) if b.number == cut else b for b in group.bars)
    found = [alike.numbers for alike in alike_bars(replace(group, bars=bars))]
    assert (cut,) in found
    assert one.numbers[1:] in found


def test_what_lies_under_the_blade() -> None:
    """A cover cut in one stroke is laid on with its channel."""
    assert [part_words(group) for group in PLAN.groups] == [
        "channel and cover together, one cover bar per channel bar",
        "channel",
        "cover",
        "channel",
    ]


def test_given_values_are_told_from_common_ones() -> None:
    """Who gave a kerf must not wonder whether it was taken; a finding of the reader tells."""
    notes = tuple(
        Finding(severity=Severity.WARNING, code=code, where=Where(source, at), found="", message="")
        for code, source, at in (
            ("default-head-trim", "Saw", ""),
            ("default-used", "request", "/saw/grip"),
            ("default-used", "request", "/cover_saw/step"),
            ("default-family", "Runs", "A1"),
        )
    )
    plan = replace(PLAN, request=replace(PLAN.request, findings=notes))
    given, common = "given", "common value"
    assert given_words(plan, SAW) == (given, common, given, given, common, given)
    assert given_words(plan, COVER_SAW) == (given, common, given, given, given, common)
    assert set(given_words(PLAN, SAW)) == {given}
