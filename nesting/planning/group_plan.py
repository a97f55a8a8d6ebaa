"""A material's bars with everything that follows from them: account, margins, spares."""

from __future__ import annotations

from nesting.domain.goals import GoalPrice
from nesting.domain.plan import Alternative, GroupPlan, PlannedBar
from nesting.domain.progress import Certificate, StopReason
from nesting.planning.assemble import account
from nesting.planning.group import Group
from nesting.planning.margins import margins_of
from nesting.planning.spares import spares_from_tails


def group_plan(
    group: Group,
    bars: tuple[PlannedBar, ...],
    *,
    cost: int,
    bound: int,
    ended: StopReason,
    seconds: float = 0.0,
    certificate: Certificate | None = None,
    alternative: Alternative | None = None,
    goals: tuple[GoalPrice, ...] = (),
    open_units: int | None = None,
) -> GroupPlan:
    """
    Give the plan of one material, for a first plan and for one after a report alike.

    Parameters
    ----------
    cost, bound
        In the group's unit: money, or bars bought.
    open_units
        None in plans that do not say.
    """
    return GroupPlan(
        material=group.material,
        saw=group.saw,
        bars=bars,
        priced=group.priced,
        cost=cost,
        bound=bound,
        ended=ended,
        seconds=seconds,
        totals=account(bars),
        cover_follows=group.cover_follows,
        mitre=group.mitre,
        certificate=certificate,
        alternative=alternative,
        margins=margins_of(bars, group.saw, group.mitre),
        # A tail behind a slope would need a stroke more, and mitred spares fit no other place.
        spares=() if group.mitre else spares_from_tails(bars, group.saw, group.spares),
        goals=goals,
        open_units=open_units,
    )
