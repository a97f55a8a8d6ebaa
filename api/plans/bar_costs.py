"""What each bar of a plan really costs: packs, breaks, bars on hand and offcuts counted as they are paid."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.verify.bill import Bills


def bar_costs(plan: Plan) -> dict[int, int]:
    """
    Give the cost of every bar by its number, in ten-thousandths; groups without prices are left out.

    Each order line is spread evenly over the bars opened of it; what does not divide goes to the first
    ones, so that the bars of a group come to its cost exactly.
    """
    bills = Bills(plan)
    costs: dict[int, int] = {}
    for group in plan.groups:
        spread = bills.by_bars(group) if group.priced else None
        if spread is None:
            continue
        left = group.cost - sum(low for low, _ in spread.values())
        for number, (low, high) in sorted(spread.items()):
            more = min(high - low, left)
            costs[number] = low + more
            left -= more
    return costs
