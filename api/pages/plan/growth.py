"""The growth margins of a plan, looked for on request, put where the other margins are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from api.processes.advisor import Growth
from nesting.domain.plan import Margins, Plan
from nesting.reports.lengths import BothUnits
from nesting.reports.purchase_words import margin_words


def with_growth(plan: Plan, growth: Sequence[Growth]) -> Plan:
    """Give the plan with the growth margins that were found among its margins."""
    found = {one.material: one for one in growth}
    if not found:
        return plan
    groups = tuple(
        replace(group, margins=replace(group.margins, growth=one.growth, growth_cost=one.cost))
        if group.margins is not None and (one := found.get(str(group.material)))
        else group
        for group in plan.groups
    )
    return replace(plan, groups=groups)


def growth_words(plan: Plan, growth: Sequence[Growth], lengths: BothUnits) -> Iterator[tuple[str, str]]:
    """Say for each material, by its name, how much its runs may grow."""
    found = {one.material: one for one in growth}
    for group in plan.groups:
        if one := found.get(str(group.material)):
            alone = Margins(kerf=None, bar=None, growth=one.growth, growth_cost=one.cost)
            said = margin_words(replace(group, margins=alone), lengths).partition(": ")[2]
            yield one.material, said[:1].upper() + said[1:]
