"""What is left to order where the plans before are ordered, and what is cut of their reserve."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.reports.answer import bars_words, material_of, more_cost_words
from nesting.reports.lengths import BothUnits


def placed_words(plan: Plan) -> str:
    """Say what is left to order where the plan before is ordered; empty for a first plan."""
    if not any(line.ordered for line in plan.order):
        return ""
    lengths = BothUnits.of(plan)
    more = [
        f"{bars_words(line.more)} of {lengths.said(line.length)} {material_of(line)}"
        for line in plan.order
        if line.more
    ]
    left = [
        f"{bars_words(line.left_over)} of {lengths.said(line.length)} {material_of(line)}"
        for line in plan.order
        if line.left_over
    ]
    stock = f"; {' and '.join(left)} will be left over" if left else ""
    where = f"Where plan {plan.follows} is ordered already"
    if not more:
        return f"{where}, nothing more is to be ordered{stock}."
    cost = more_cost_words(plan.order, plan.request.currency)
    return f"{where}, order only {' and '.join(more)} more{cost}{stock}."


def reserve_words(plan: Plan) -> str:
    """Say how many of the reserve bars that were ordered before are cut; empty where none is."""
    lengths = BothUnits.of(plan)
    said = [
        f"{line.reserve_used} of {line.reserve + line.reserve_used} reserve bars of "
        f"{lengths.said(line.length)} {material_of(line)}"
        for line in plan.order
        if line.reserve_used
    ]
    if not said:
        return ""
    return f"Used of the reserve, at no more cost: {' and '.join(said)}."
