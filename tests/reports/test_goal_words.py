"""Second goals in words: the gain, the price and the proof, without a word too many."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.goals import GoalPrice, Goals, Slivers
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import PieceLine, Place
from nesting.domain.stock import StockLine
from nesting.money import read_money
from nesting.reports.goal_words import goal_words, unit_completion_words
from nesting.units import mm


def plan_with(goals: Goals, *prices: GoalPrice) -> Plan:
    """Plan four pieces for two units; its goals may be set by hand for the words alone."""
    lines = tuple(
        PieceLine(
            job="OY", id=f"L{n}", family="F", quantity=2, length=mm(700 + n), place=Place(unit=f"30{n}")
        )
        for n in range(2)
    )
    stock = (StockLine(family="F", length=mm(1500), price=read_money("10.00")),)
    request = Request(piece_lines=lines, stock=stock, saw=DEFAULT_SAW, goals=goals, currency="XTS")
    plan = plan_request(request, Limits(processes=1))
    if not prices:
        return plan
    return replace(plan, groups=(replace(plan.groups[0], goals=prices),))


def price(goal: str, before: int, after: int, *, cost: int = 0, bound: int | None = None) -> GoalPrice:
    """Give a goal that costs so much more."""
    return GoalPrice(
        goal=goal, cost_before=0, cost_after=cost, value_before=before, value_after=after, lower_bound=bound
    )


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (
            price("patterns", 21, 18, bound=8),
            "18 different patterns instead of 21, at no more cost; at least 8 are needed.",
        ),
        (price("patterns", 1, 1, bound=1), "1 different pattern; fewer is impossible."),
        (
            price("longest tail", 432_000_000, 574_000_000),
            "The longest tail is 574 mm instead of 432 mm, at no more cost.",
        ),
        (price("longest tail", 9, 9), "The longest tail is ~0 mm; a longer one was not found."),
        (
            price("younger offcuts taken before older ones", 2, 0),
            "2 older offcuts are taken instead of younger ones, at no more cost.",
        ),
        (price("patterns", 1, 1), "1 different pattern; fewer is impossible."),
        (
            price("most open units", 41, 2, bound=2),
            "2 units open at once at most instead of 41, at no more cost; "
            "fewer is impossible with these bars.",
        ),
        (
            price("strokes", 120, 30, bound=30),
            "30 strokes with 4 bars clamped at once instead of 120, at no more cost.",
        ),
        (price("stop changes", 50, 50), "The stop moves 50 times; fewer were not found."),
        (
            price("bars until the urgent are cut", 12, 1),
            "The most urgent pieces are cut after 1 bar instead of 12, at no more cost.",
        ),
        (
            price("slivers", 0, 0, bound=0),
            "No last stroke has less than a kerf of metal; the ban cost nothing.",
        ),
        (
            price("slivers", 1, 0, cost=140_000, bound=0),
            "No last stroke has less than a kerf of metal: 1 bar had one, 14.00 XTS more.",
        ),
    ],
)
def test_each_goal_has_its_sentence(given: GoalPrice, said: str) -> None:
    """What was gained stands beside what it cost, and a proof is claimed only where there is one."""
    plan = plan_with(Goals(gang=4), given)
    assert goal_words(plan, plan.groups[0]) == (said,)


def test_nothing_is_said_of_what_nobody_asked_for() -> None:
    """A plan without second goals reads as it did."""
    plan = plan_with(Goals())
    assert goal_words(plan, plan.groups[0]) == ()
    assert unit_completion_words(plan) == ""


def test_units_are_named_with_the_bar_that_completes_them() -> None:
    """The site asks when a unit can be fitted; two pieces fit a bar, and the longer ones are cut first."""
    plan = plan_with(Goals(open_units=True, slivers=Slivers.WARN))
    assert unit_completion_words(plan) == "Unit 301 complete after bar 1; unit 300 complete after bar 2."


def test_units_of_one_name_in_two_jobs_are_told_apart() -> None:
    """Two sentences of unit 301 would send the fitters to the wrong site on the earlier day."""
    plan = plan_with(Goals(open_units=True, slivers=Slivers.WARN))
    lines = tuple(
        replace(line, job=job, place=Place(unit="301"))
        for line, job in zip(plan.request.piece_lines, ("OY", "WK"), strict=True)
    )
    plan = plan_request(replace(plan.request, piece_lines=lines), Limits(processes=1))
    assert unit_completion_words(plan) == (
        "Unit 301 of job WK complete after bar 1; unit 301 of job OY complete after bar 2."
    )
