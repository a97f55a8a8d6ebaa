"""Whether second goals are what the plan says they are, counted here once more from the bars."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from nesting.domain.goals import Goals, Slivers
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.verify.violation import Violation
from nesting.verify.walk import name_of, walk

# The one goal of which more is better.
_LONGEST_TAIL = "longest tail"


def goal_violations(plan: Plan) -> Iterator[Violation]:
    """Give the slivers that are forbidden, the goals that are missing, and the counts that are wrong."""
    units = {p.id: (p.job, p.place.building, p.place.floor, p.place.unit) for p in plan.pieces}
    for group in plan.groups:
        yield from _slivers(plan.request.goals, group)
        where = f"material {group.material}"
        open_units = _most_open([{units.get(cut.piece) for cut in bar.good_cuts} for bar in group.bars])
        if group.open_units is not None and group.open_units != open_units:
            yield Violation(
                "open-units",
                where,
                f"{group.material}: {group.open_units} units are said to be open at most, "
                f"it is {open_units}.",
            )
        yield from _prices(plan, group, open_units)


def _slivers(goals: Goals, group: GroupPlan) -> Iterator[Violation]:
    if goals.slivers is not Slivers.FORBID:
        return
    for bar in group.bars:
        if not bar.cuts or bar.state.cut:
            continue
        walked = walk(bar, group.saw, group.mitre)
        if 0 < walked.rest < walked.take:
            yield Violation(
                "sliver-forbidden",
                f"bar {bar.number}",
                f"{name_of(group, bar)}: its last stroke has less than a kerf of metal, which is forbidden.",
            )


def _prices(plan: Plan, group: GroupPlan, open_units: int) -> Iterator[Violation]:
    where = f"material {group.material}"
    bars, gang = group.bars, plan.request.goals.gang
    true = {
        "patterns": len({(bar.source, tuple(sorted(cut.length for cut in bar.cuts))) for bar in bars}),
        "most open units": open_units,
        "strokes": _strokes(bars, gang),
        "stop changes": sum(a != b for a, b in pairwise(cut.length for bar in bars for cut in bar.cuts)),
        "slivers": sum(bar.sliver for bar in bars),
        _LONGEST_TAIL: max((int(bar.tail) for bar in bars), default=0),
    }
    for price in group.goals:
        said = price.value_after
        if true.get(price.goal, said) != said:
            yield Violation(
                "goal",
                where,
                f"{group.material}: {said} {price.goal} by the plan, its bars have {true[price.goal]}.",
            )
        if price.lower_bound is not None and price.lower_bound > said:
            yield Violation(
                "goal-bound",
                where,
                f"{group.material}: its {price.goal} are fewer than is said to be possible.",
            )
        grew = price.value_after > price.value_before
        if price.value_after < price.value_before if price.goal == _LONGEST_TAIL else grew:
            yield Violation("goal-worse", where, f"{group.material}: {price.goal} was pursued and is worse.")
        if price.cost_after > group.cost:
            yield Violation(
                "goal-cost", where, f"{group.material}: {price.goal} are said to cost more than all its bars."
            )
        if price.goal != "slivers" and price.price > 0:
            yield Violation("goal-price", where, f"{group.material}: {price.goal} made its bars dearer.")
    if group.goals:
        yield from _missing(plan.request.goals, group)


def _missing(goals: Goals, group: GroupPlan) -> Iterator[Violation]:
    """Give what was asked for and is not told."""
    asked = {
        "patterns": goals.fewer_patterns,
        "most open units": goals.open_units,
        "strokes": goals.gang > 1,
        _LONGEST_TAIL: goals.long_tail,
        "slivers": goals.slivers is Slivers.FORBID,
    }
    told = {price.goal for price in group.goals}
    for goal in (goal for goal, wanted in asked.items() if wanted and goal not in told):
        yield Violation(
            "goal-missing",
            f"material {group.material}",
            f"{group.material}: {goal} were asked for, the plan does not tell them.",
        )


def _setting(bar: PlannedBar) -> tuple[object, ...]:
    """Give what bars have to share to be clamped together: source, trim, stops and slopes in order."""
    stops = [(cut.long_point or cut.length, cut.slope_start, cut.slope_end) for cut in bar.cuts]
    return bar.source, bar.length, bar.head, stops


def _strokes(bars: Sequence[PlannedBar], gang: int) -> int:
    """Count the strokes with up to ``gang`` neighbours that share all settings cut at once."""
    total = 0
    for _, alike in groupby(bars, key=_setting):
        together = list(alike)
        total += together[0].strokes * -(-len(together) // gang)
    return total


def _most_open(bars: Sequence[set[tuple[str, ...] | None]]) -> int:
    """Walk the bars and count the units begun and not finished, the ones of this bar included."""
    last = {unit: number for number, units in enumerate(bars) for unit in units}
    begun: set[tuple[str, ...] | None] = set()
    most = 0
    for number, units in enumerate(bars):
        begun = {unit for unit in begun if last[unit] >= number} | units
        most = max(most, len(begun))
    return most
