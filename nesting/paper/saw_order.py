"""The order in which pieces come off the saw; sheets and labels share it."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import replace

from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar
from nesting.reports.gangs import Gang, gangs
from nesting.reports.unverified import unverified
from nesting.reports.whereabouts import bars_to_cut


def gangs_to_cut(plan: Plan, group: GroupPlan, marked: Container[str]) -> tuple[Gang, ...]:
    """
    Give the blocks of a material's cut sheets, without the bars that are cut already.

    Parameters
    ----------
    marked
        Ids of the pieces whose sizes are not verified yet.
    """
    open_bars = replace(group, bars=bars_to_cut(group))
    return gangs(open_bars, unverified=marked, clamp=plan.request.goals.gang)


def cuts_in_order(plan: Plan) -> Iterator[tuple[PlannedBar, int, Cut]]:
    """
    Give every cut still to be made with its bar and its number, block by block of the cut sheets.

    Of bars that share a block the first cuts come first, then all second ones: the stop is set once for
    them, and clamped bars are cut with one stroke.
    """
    marked = unverified(plan)
    for group in plan.groups:
        for gang in gangs_to_cut(plan, group, marked):
            for order in range(1, len(gang.model.cuts) + 1):
                for bar in gang.bars:
                    yield bar, order, bar.cuts[order - 1]
