"""The auditor: any plan, replayed and recounted, without the code that made it."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.verify.account import account_violations
from nesting.verify.demand import demand_violations
from nesting.verify.extras import extra_violations
from nesting.verify.goals import goal_violations
from nesting.verify.identity import identity_violations
from nesting.verify.lots import lot_violations
from nesting.verify.mitred import mitre_violations
from nesting.verify.purchase import job_violations, order_violations
from nesting.verify.release import release_violations
from nesting.verify.replanned import replanned_violations
from nesting.verify.small_parts import small_part_violations
from nesting.verify.strips import reel_violations, strip_violations
from nesting.verify.supply import supply_violations
from nesting.verify.violation import Violation
from nesting.verify.walk import bar_violations


def violations(plan: Plan) -> tuple[Violation, ...]:
    """
    Give everything that is wrong with a plan, nothing when it can be trusted.

    The saw is walked along every bar, the pieces are derived from the runs once more, the bars are
    looked up, and metal and money are added up again. Nothing is shared with the code that plans.

    Returns
    -------
    Violations in the order of the checks and of the plan; the same plan gives the same ones.
    """
    found: list[Violation] = []
    for group in plan.groups:
        for bar in group.bars:
            found.extend(bar_violations(group, bar))
    found.extend(supply_violations(plan))
    found.extend(identity_violations(plan))
    found.extend(demand_violations(plan))
    found.extend(mitre_violations(plan))
    found.extend(strip_violations(plan))
    found.extend(reel_violations(plan))
    found.extend(release_violations(plan))
    found.extend(small_part_violations(plan))
    found.extend(lot_violations(plan))
    found.extend(account_violations(plan))
    found.extend(order_violations(plan))
    found.extend(job_violations(plan))
    found.extend(extra_violations(plan))
    found.extend(goal_violations(plan))
    found.extend(replanned_violations(plan))
    return tuple(found)
