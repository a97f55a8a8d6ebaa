"""Bars without slivers: what the rule says of one bar, and how bars that have one are mended."""

from __future__ import annotations

import pytest

from nesting.domain.goals import Goals, Slivers
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import BarKind, Problem
from nesting.planning.slivers import can_sliver, gives, is_exact, mended, sliver_count, sparing
from nesting.solver.solve import solve
from nesting.units import Length, mm

FORBID = Goals(slivers=Slivers.FORBID)


def problem(lengths: dict[int, int], bar: int, *, tail: int = 0, count: int | None = None) -> Problem:
    """Give pieces (mm: how many) on bars of one length, kerf 3."""
    return Problem(
        lengths=tuple(mm(length) for length in sorted(lengths, reverse=True)),
        counts=tuple(lengths[length] for length in sorted(lengths, reverse=True)),
        bars=(BarKind(key="stock:0", length=mm(bar), tail=mm(tail), count=count),),
        kerf=mm(3),
    )


@pytest.mark.parametrize(
    ("length", "warned", "forbidden", "never_exactly"),
    [
        (100, True, True, False),
        (99, True, False, False),
        (98, True, False, False),
        (97, True, True, True),
        (101, False, False, False),
    ],
)
def test_a_bar_of_100_gives(length: int, warned: bool, forbidden: bool, never_exactly: bool) -> None:
    """100 leaves nothing, 99 and 98 a sliver, 97 a kerf; 101 is no matter of slivers."""
    bar = BarKind(key="b", length=mm(100))
    assert gives(bar, mm(length), kerf=mm(3), goals=Goals()) is warned
    assert gives(bar, mm(length), kerf=mm(3), goals=FORBID) is forbidden
    assert gives(bar, mm(length), kerf=mm(3), goals=FORBID, exactly=False) is never_exactly


def test_a_tail_loss_of_a_kerf_leaves_no_room_for_slivers() -> None:
    """With e >= k the solver's rule is enough; 0 < e < k asks for a kerf; e = 0 may come out exactly."""
    assert [can_sliver(problem({60: 1}, 100, tail=tail)) for tail in (0, 1, 3)] == [True, True, False]
    assert [is_exact(problem({60: 1}, 100, tail=tail)) for tail in (0, 1, 3)] == [False, True, True]


def test_sparing_asks_for_a_whole_stroke_behind_every_last_piece() -> None:
    """The bar gives 97 then; a piece of 98 has none, and a wider stroke takes more."""
    spared = sparing(problem({97: 1}, 100))
    assert spared is not None
    assert spared.bars[0].usable == mm(97)
    assert sparing(problem({98: 1}, 100)) is None
    assert sparing(problem({97: 1}, 100), mm(4)) is None


def test_mending_keeps_what_is_right() -> None:
    """50 + 47 comes out exactly and stays; 50 + 45 leaves 2 and is cut as two bars."""
    asked = problem({50: 2, 47: 1, 45: 1}, 100)
    packing = Packing((PatternUse(0, ((0, 1), (1, 1)), 1), PatternUse(0, ((0, 1), (2, 1)), 1)), (0, 0, 0))
    assert sliver_count(asked, packing) == 1
    made = mended(asked, packing, lambda part: solve(part).best)
    assert sliver_count(asked, made) == 0
    assert PatternUse(0, ((0, 1), (1, 1)), 1) in made.uses
    assert sum(use.times for use in made.uses) == 3
    assert made.short == (0, 0, 0)


def test_mending_leaves_short_what_no_bar_is_left_for() -> None:
    """Two bars in all: one stays as it is, the other holds one of the two pieces of the sliver."""
    asked = problem({50: 2, 47: 1, 45: 1}, 100, count=2)
    packing = Packing((PatternUse(0, ((0, 1), (1, 1)), 1), PatternUse(0, ((0, 1), (2, 1)), 1)), (0, 0, 0))
    made = mended(asked, packing, lambda part: solve(part).best)
    assert sliver_count(asked, made) == 0
    assert sum(use.times for use in made.uses) == 2
    assert sum(made.short) == 1
    lengths = [Length(a * n) for a, n in zip(asked.lengths, made.short, strict=True)]
    assert sum(lengths) == mm(45)  # the shorter one, since least length is left out
