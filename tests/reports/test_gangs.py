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


def test_blocks_follow_the_clamp() -> None:
    """Ten bars alike: a clamp for two shows pairs, a clamp for five shows 3 + 2 twice, none straddling."""
    (group,) = gang_plan().groups
    pairs = gangs(group, clamp=2)
    assert [len(gang.bars) for gang in pairs] == [2] * 5
    assert {gang.words for gang in pairs} == {"clamp 2 bars together"}
    fives = gangs(group, clamp=5)
    assert [len(gang.bars) for gang in fives] == [3, 2, 3, 2]
    assert [gang.words for gang in fives[1:3]] == ["clamp bars 1-5", "clamp bars 6-10"]
    # 10 = 4 + 4 + 2: the last clamping holds what is left.
    assert [gang.words for gang in gangs(group, clamp=4)][-1] == "clamp 2 bars together"
    assert [len(gang.bars) for gang in gangs(group, 20, clamp=99)] == [10]


def test_bars_cut_one_by_one_share_a_block_without_a_clamp() -> None:
    """Their stops are the same, which saves paper; nobody is told to clamp them."""
    (group,) = gang_plan().groups
    assert gangs(group)[0].words == "cut 4 bars alike"
    assert gangs(replace(group, bars=group.bars[:1]))[0].words == ""
