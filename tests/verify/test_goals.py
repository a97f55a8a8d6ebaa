"""Second goals mutated figure by figure: the auditor names each."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.goals import GoalPrice, Goals, Slivers
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine, Place
from nesting.domain.stock import StockLine
from nesting.units import mm
from nesting.verify import violations
from nesting.verify.goals import goal_violations

SAW = SawRules(kerf=mm(3), keep_length=mm(400))
LINES = tuple(
    PieceLine(
        job="J", id=f"L{n}", family="F", quantity=3, length=mm(700 + 31 * n), place=Place(unit=str(n % 3))
    )
    for n in range(6)
)
ALL = Goals(fewer_patterns=True, gang=2, open_units=True, slivers=Slivers.FORBID)
PLAN = plan_request(
    Request(piece_lines=LINES, stock=(StockLine(family="F", length=mm(2500)),), saw=SAW, goals=ALL),
    Limits(processes=1),
)


def codes(plan: Plan) -> set[str]:
    """Give the codes of what is wrong with the goals."""
    return {violation.code for violation in goal_violations(plan)}


def with_goal(name: str, **change: Any) -> Plan:
    """Give the plan with one figure of one goal changed."""
    (group,) = PLAN.groups
    goals = tuple(replace(g, **change) if g.goal == name else g for g in group.goals)
    return replace(PLAN, groups=(replace(group, goals=goals),))


def of(name: str) -> GoalPrice:
    """Give one goal of the plan."""
    return next(goal for goal in PLAN.groups[0].goals if goal.goal == name)


def test_the_plan_as_made_is_right() -> None:
    """Nothing is found where nothing is wrong."""
    assert violations(PLAN) == ()


@pytest.mark.parametrize("name", ["patterns", "most open units", "strokes", "slivers"])
def test_a_count_that_the_bars_do_not_have_is_named(name: str) -> None:
    """Every count is made again from the bars."""
    goal = of(name)
    more = {"value_after": goal.value_after + 1, "value_before": goal.value_before + 1}
    assert codes(with_goal(name, **more)) == {"goal"}


def test_prices_bounds_and_losses_are_named() -> None:
    """A goal that cost money, got worse, or claims the impossible is not what was asked for."""
    goal = of("strokes")
    assert codes(with_goal("strokes", cost_before=goal.cost_after - 1)) == {"goal-price"}
    assert codes(with_goal("strokes", value_before=goal.value_after - 1)) == {"goal-worse"}
    assert codes(with_goal("strokes", lower_bound=goal.value_after + 1)) == {"goal-bound"}
    dear = PLAN.groups[0].cost + 1
    assert codes(with_goal("strokes", cost_before=dear, cost_after=dear)) == {"goal-cost"}


def test_a_goal_that_is_not_told_is_named() -> None:
    """Who asks for few patterns must hear what became of them."""
    (group,) = PLAN.groups
    fewer = replace(group, goals=group.goals[1:])
    assert codes(replace(PLAN, groups=(fewer,))) == {"goal-missing"}


def test_open_units_that_are_not_the_bars_are_named() -> None:
    """The number of units open at most is walked again."""
    (group,) = PLAN.groups
    wrong = replace(group, open_units=(group.open_units or 0) + 1)
    assert codes(replace(PLAN, groups=(wrong,))) == {"open-units"}


def test_a_sliver_under_the_ban_is_named_though_the_bar_says_none() -> None:
    """665 + 665 + 662 on 2000 leave 2: a plan made without the ban fails under it, whatever it says."""
    lines = (
        PieceLine(job="J", id="A", family="F", quantity=2, length=mm(665)),
        PieceLine(job="J", id="B", family="F", length=mm(662)),
    )
    stock = (StockLine(family="F", length=mm(2000)),)
    plan = plan_request(Request(piece_lines=lines, stock=stock, saw=SAW), Limits(processes=1))
    assert codes(plan) == set()
    banned = replace(plan, request=replace(plan.request, goals=Goals(slivers=Slivers.FORBID)))
    hidden = replace(banned.groups[0], bars=tuple(replace(b, sliver=False) for b in banned.groups[0].bars))
    assert codes(banned) == {"sliver-forbidden"}
    assert codes(replace(banned, groups=(hidden,))) == {"sliver-forbidden"}
