"""What the saw is told stroke by stroke."""

from __future__ import annotations

from fractions import Fraction

from api.pages.saw.strokes import said_of
from nesting.domain.status import Status
from nesting.reports.lengths import METRIC, BothUnits
from nesting.units import Unit, mm
from tests.pages.saw.sheets import TRIMMED, plan_of, sheet_of


def test_the_same_stop_is_not_set_twice() -> None:
    """Four of 610: set and measured once, then left; faces at 610, 1223, 1836 and 2449."""
    strokes = sheet_of(plan_of(("610",) * 4, 2500, TRIMMED)).strokes
    assert [stroke.same_stop for stroke in strokes] == [False, True, True, True]
    assert [stroke.measure_first for stroke in strokes] == [True, False, False, False]
    assert [stroke.face.figure for stroke in strokes] == ["610", "1223", "1836", "2449"]


def test_a_cut_that_nothing_holds_says_so_before_it_is_made() -> None:
    """Two of 100 from 300: behind the second 94 are left, and piece and rest are under 150."""
    first, second = sheet_of(plan_of(("100", "100"), 300)).strokes
    assert (first.held, first.loud) == (True, ())
    assert not second.held
    assert [word for word, _ in second.loud] == ["CLAMP"]
    assert "150\N{NO-BREAK SPACE}mm" in second.loud[0][1]


def test_a_blade_half_in_air_is_said_at_the_last_stroke() -> None:
    """665 + 665 + 662 with two strokes of 3 between them leave 2 of 2000, less than a kerf."""
    strokes = sheet_of(plan_of(("665", "665", "662"), 2000)).strokes
    assert [[word for word, _ in stroke.loud] for stroke in strokes] == [[], [], ["HALF IN AIR"]]


def test_the_rest_that_is_the_last_piece_takes_no_stroke() -> None:
    """4 x 497.75 + 3 x 3 = 2000: three strokes free four pieces."""
    strokes = sheet_of(plan_of(("497.75",) * 4, 2000)).strokes
    assert [stroke.stroke for stroke in strokes] == [True, True, True, False]


def test_a_size_from_a_drawing_is_not_cut() -> None:
    """Whoever stands at the saw sees VERIFY at the very piece."""
    (stroke,) = sheet_of(plan_of(("900",), 1000, status=Status.DRAWING)).strokes
    assert [word for word, _ in stroke.loud] == ["VERIFY"]


def test_a_length_comes_apart_into_figure_and_unit() -> None:
    """The figure alone is in huge type; its size goes by its signs, so that no inch fraction is cut off."""
    assert (said_of(mm(610), METRIC).figure, said_of(mm(610), METRIC).unit) == ("610", "mm")
    # 1800 mm are 70 55/64 in and a little: nine signs with the mark of what is not exact.
    inches = said_of(mm(1800), BothUnits(Unit.INCH))
    assert (inches.figure, inches.unit, inches.second) == (
        "~70\N{NO-BREAK SPACE}55/64",
        "in",
        "1800\N{NO-BREAK SPACE}mm",
    )
    assert [said_of(mm(Fraction(x)), METRIC).size for x in ("610", "1580.3")] == ["short", "middle"]
    assert inches.size == "long"
    # 5000 mm are 196 27/32 in and a little: ten signs.
    assert said_of(mm(5000), BothUnits(Unit.INCH)).size == "longest"
