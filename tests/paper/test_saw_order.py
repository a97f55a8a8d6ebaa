"""The order in which pieces come off the saw."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.made import BarState
from nesting.paper.saw_order import cuts_in_order, gangs_to_cut
from tests.paper.plans import gang_plan
from tests.reports.plans import example_plan


def test_bars_of_a_block_are_cut_stop_by_stop() -> None:
    """Ten bars alike in blocks of four, four and two: all first cuts of a block, then the second."""
    came = [(bar.number, order) for bar, order, _ in cuts_in_order(gang_plan())]
    assert came[:8] == [(1, 1), (2, 1), (3, 1), (4, 1), (1, 2), (2, 2), (3, 2), (4, 2)]
    assert came[16:20] == [(5, 1), (6, 1), (7, 1), (8, 1)]
    assert came[-2:] == [(9, 4), (10, 4)]


def test_every_cut_comes_once() -> None:
    """None is lost between blocks."""
    plan = example_plan()
    cuts = [cut for group in plan.groups for bar in group.bars for cut in bar.cuts]
    came = [cut.piece for _, _, cut in cuts_in_order(plan)]
    assert sorted(came) == sorted(cut.piece for cut in cuts)


def test_bars_that_are_cut_already_are_left_out() -> None:
    """Nobody cuts or labels bar 1 again after a new plan."""
    plan = gang_plan()
    (group,) = plan.groups
    first, *others = group.bars
    group = replace(group, bars=(replace(first, state=BarState.DONE), *others))
    plan = replace(plan, groups=(group,))
    assert {bar.number for bar, _, _ in cuts_in_order(plan)} == set(range(2, 11))
    # nine bars, at most four a block: three blocks of about one size
    assert [len(gang.bars) for gang in gangs_to_cut(plan, group, ())] == [3, 3, 3]
