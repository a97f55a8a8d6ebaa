"""The problem behind a proof is rebuilt from the plan alone: pieces, bars, lots and prices."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.plan import Unplaced
from nesting.errors import ProblemError
from nesting.units import mm
from nesting.verify.group_problem import length_left_out, problem_of
from tests.verify.change import change
from tests.verify.small_plan import TOLV, plan

PLAN = plan()


def test_lengths_bars_and_costs() -> None:
    """Longest first, stock lines before offcuts, an offcut with one raw end loses nothing at its head."""
    problem = problem_of(PLAN, PLAN.groups[3])
    assert problem.lengths == (mm(1803), mm(592))
    assert problem.counts == (3, 3)
    assert [(b.key, b.cost, b.count, b.head, b.tail) for b in problem.bars] == [
        ("stock:0", 114_000, 4, mm(8), mm(8)),
        ("stock:1", 140_000, None, mm(8), mm(8)),
        ("R-17", 20_000, 1, mm(0), mm(8)),
    ]


def test_covers_go_with_their_channel() -> None:
    """100000 for the channel, 28000 for the cover; two covers limit the bars to two."""
    (bar,) = problem_of(PLAN, PLAN.groups[0]).bars
    assert (bar.cost, bar.count) == (128_000, 2)


def test_pieces_that_fit_no_bar_are_no_part_of_it() -> None:
    """2200 fits no bar of 2000 and says nothing about the others."""
    assert problem_of(PLAN, PLAN.groups[0]).lengths == (mm(1176), mm(416))
    assert length_left_out(PLAN, PLAN.groups[0]) == 0


def test_a_lot_takes_its_own_offcuts_only() -> None:
    """R-18 is of another lot than the job's, so it is not on offer."""
    assert [bar.key for bar in problem_of(PLAN, PLAN.groups[4]).bars] == ["stock:6"]
    assert problem_of(PLAN, PLAN.groups[4]).bars[0].cost == 1


def test_earlier_groups_leave_less() -> None:
    """A second lot of the same family gets what the first one has left of the four bars."""
    other = replace(TOLV, lot="77")
    group = replace(PLAN.groups[3], material=other)
    two_lots = replace(
        PLAN,
        groups=(*PLAN.groups, group),
        pieces=(*PLAN.pieces, replace(PLAN.pieces[3], id="B2", material=other)),
    )
    assert [bar.count for bar in problem_of(two_lots, group).bars] == [2, None]


def test_stock_that_ran_out_is_counted_as_left_out() -> None:
    """The bound holds for plans that leave out no more than this one."""
    short = Unplaced(job="J1", run="C", piece="C/2", length=mm(1803), reason="used up", code="stock-used-up")
    left = replace(PLAN, unplaced=(*PLAN.unplaced, short))
    assert length_left_out(left, left.groups[3]) == mm(1803)


def test_a_bar_without_a_price_cannot_be_counted_in_money() -> None:
    """Nobody knows whether it would have been cheaper."""
    with pytest.raises(ProblemError, match="no price"):
        problem_of(change(PLAN, "request.stock.0", price=None), PLAN.groups[3])


def test_bars_on_hand_stand_apart() -> None:
    """Three of the four bars of 2000 are on hand for nothing, one can be bought at 11.40."""
    shelf = change(PLAN, "request.stock.0", on_hand=3)
    apart = problem_of(shelf, shelf.groups[3], shelf_apart=True)
    assert [(b.key, b.cost, b.count) for b in apart.bars] == [
        ("stock:0", 114_000, 1),
        ("stock:1", 140_000, None),
        ("R-17", 20_000, 1),
        ("stock:0 on hand", 0, 3),
    ]
    merged = problem_of(shelf, shelf.groups[3]).bars[0]
    assert (merged.key, merged.cost, merged.count) == ("stock:0", 0, 4)
