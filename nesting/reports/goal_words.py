"""What became of the second goals, in words: what each gained, what it cost, what more is possible."""

from __future__ import annotations

from collections import Counter

from nesting.domain.goals import GoalPrice
from nesting.domain.plan import GroupPlan, Plan
from nesting.reports.answer import amount, bars_words
from nesting.reports.completion import unit_rows
from nesting.reports.lengths import BothUnits

_SHOWN = 12


def goal_words(plan: Plan, group: GroupPlan) -> tuple[str, ...]:
    """Say of each goal that was asked for what it came to, and at what price; empty when none was."""
    return tuple(_said(plan, group, price) for price in group.goals)


def unit_completion_words(plan: Plan) -> str:
    """Say after which bar each unit is complete, when few open units were asked for; empty otherwise."""
    if not plan.request.goals.open_units:
        return ""
    rows = [row for row in unit_rows(plan) if row.unit and row.after and not row.missing]
    if not rows:
        return ""
    named = Counter(row.name for row in rows)
    said = [
        f"unit {row.name}{f' of job {row.job}' if named[row.name] > 1 and row.job else ''} "
        f"complete after bar {row.after}"
        for row in rows[:_SHOWN]
    ]
    more = f"; and {len(rows) - _SHOWN} more units" if len(rows) > _SHOWN else ""
    return f"U{'; '.join(said)[1:]}{more}."


def _said(plan: Plan, group: GroupPlan, price: GoalPrice) -> str:
    now, before = price.value_after, price.value_before
    if price.goal == "slivers":
        if not before:
            return "No last stroke has less than a kerf of metal; the ban cost nothing."
        had = "1 bar had one" if before == 1 else f"{before} bars had one"
        return f"No last stroke has less than a kerf of metal: {had}, {_cost(plan, group, price)}."
    if price.goal == "longest tail":
        said, was = (BothUnits.of(plan).said(length) for length in (now, before))
        if now == before:
            return f"The longest tail is {said}; a longer one was not found."
        return f"The longest tail is {said} instead of {was}, {_cost(plan, group, price)}."
    if price.goal == "younger offcuts taken before older ones":
        taken = "1 older offcut is" if before == 1 else f"{before} older offcuts are"
        return f"{taken} taken instead of younger ones, {_cost(plan, group, price)}."
    counted = {
        "patterns": _counted(now, "different pattern"),
        "most open units": f"{_counted(now, 'unit')} open at once at most",
        "strokes": f"{_counted(now, 'stroke')} with {bars_words(plan.request.goals.gang)} clamped at once",
        "stop changes": f"the stop moves {_counted(now, 'time')}",
        "bars until the urgent are cut": f"the most urgent pieces are cut after {bars_words(now)}",
    }.get(price.goal, f"{price.goal}: {now}")
    counted = counted[:1].upper() + counted[1:]
    if now == before:
        least = price.proved or (price.goal == "patterns" and now <= 1)
        return f"{counted}; {'fewer is impossible' if least else 'fewer were not found'}."
    rest = ""
    if price.proved and price.goal in ("most open units", "stop changes"):
        rest = "; fewer is impossible with these bars"
    elif price.lower_bound is not None and price.goal == "patterns":
        rest = f"; at least {price.lower_bound} {'is' if price.lower_bound == 1 else 'are'} needed"
    return f"{counted} instead of {before}, {_cost(plan, group, price)}{rest}."


def _cost(plan: Plan, group: GroupPlan, price: GoalPrice) -> str:
    if not price.price:
        return "at no more cost"
    more = amount(price.price, plan.request.currency) if group.priced else bars_words(price.price)
    return f"{more} more"


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
