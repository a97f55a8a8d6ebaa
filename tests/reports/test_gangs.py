"""Bars cut alike."""

from __future__ import annotations

from dataclasses import replace

from nesting.reports.gangs import gangs
from tests.paper.plans import gang_plan
from tests.reports.plans import example_plan


def test_equal_bars_share_blocks_of_four() -> None:
    """Ten bars alike are cut as 4 + 4 + 2, each bar once and in order."""
    (group,) = gang_plan().groups
    found = gangs(group)
    assert [len(gang.bars) for gang in found] == [4, 4, 2]
    assert [bar.number for gang in found for bar in gang.bars] == list(range(1, 11))


def test_offcuts_and_different_bars_stand_alone() -> None:
    """Everything that is set or watched at the saw is the same within a block."""
    for group in example_plan().groups:
        for gang in gangs(group):
            assert len({tuple(cut.length for cut in bar.cuts) for bar in gang.bars}) == 1
            assert len({(bar.length, bar.head, bar.tail, bar.fate) for bar in gang.bars}) == 1
            assert len(gang.bars) == 1 or not any(bar.offcut for bar in gang.bars)


def test_a_bar_that_cannot_be_held_is_not_hidden_among_others() -> None:
    """One unheld cut parts its bar from its neighbours."""
    (group,) = gang_plan().groups
    bar = group.bars[1]
    unheld = replace(bar, cuts=(*bar.cuts[:3], replace(bar.cuts[3], held=False)))
    changed = replace(group, bars=(group.bars[0], unheld, *group.bars[2:4]))
    assert [[bar.number for bar in gang.bars] for gang in gangs(changed)] == [[1], [2], [3, 4]]


def test_bars_with_unverified_pieces_are_not_among_verified_ones() -> None:
    """A mark in a block holds for every bar of it."""
    (group,) = gang_plan().groups
    marked = {group.bars[1].cuts[2].piece}
    assert [len(gang.bars) for gang in gangs(group, 20, marked)] == [1, 1, 8]
