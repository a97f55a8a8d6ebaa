"""A settled group with fewer different patterns, at the same cost and with no more scrap."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.goals import GoalPrice, Slivers
from nesting.domain.packing import PatternUse
from nesting.domain.problem import BarKind, Problem
from nesting.planning.long_tail import longest_tail
from nesting.planning.settle import Settled, opened
from nesting.planning.slivers import sliver_count, sparing
from nesting.solver.fewer_patterns import fewer_patterns, least_patterns, pattern_count
from nesting.stop import NEVER, Stop


def with_fewer_patterns(settled: Settled, *, seed: int = 0, stop: Stop = NEVER) -> Settled:
    """
    Look for fewer patterns on the same bars, and say what came of it.

    The bill is made out anew, since bars may be left over; where that would cost more, or a sliver would
    come about that is forbidden, the patterns stay as they are, and so do those of mitred pieces.

    Parameters
    ----------
    stop
        Asked once a round.
    """
    group, result = settled.group, settled.result
    if group.mitre is not None:
        return settled  # other patterns would have to be laid anew
    problem, before = group.problem, result.best
    forbidden = group.goals.slivers is Slivers.FORBID
    searched = (_sparing(problem, before.uses) if forbidden else None) or problem
    after = fewer_patterns(searched, before, seed=seed, stop=stop)
    changed = replace(result, best=after)
    bill = group.market.bill(opened(group, changed)) if group.market.uses else settled.bill
    cost = None if bill is None else bill.cost + _charges(problem.bars, after.uses, len(group.market.uses))
    better = (
        cost is not None
        and cost <= result.cost
        and pattern_count(after) < pattern_count(before)
        and not (group.goals.long_tail and longest_tail(problem, after) < longest_tail(problem, before))
        and not (forbidden and sliver_count(problem, after) > sliver_count(problem, before))
    )
    kept = after if better else before
    price = GoalPrice(
        goal="patterns",
        cost_before=result.cost,
        cost_after=cost if better and cost is not None else result.cost,
        value_before=pattern_count(before),
        value_after=pattern_count(kept),
        lower_bound=least_patterns(problem, kept),
    )
    goals = (*settled.goals, price)
    if not better or bill is None:
        return replace(settled, goals=goals)
    fewer = replace(changed, cost=price.cost_after, bound=min(result.bound, price.cost_after))
    return replace(settled, result=fewer, bill=bill, goals=goals)


def _sparing(problem: Problem, uses: tuple[PatternUse, ...]) -> Problem | None:
    """Give the problem with a kerf behind every last piece when all patterns at hand leave one."""
    spared = sparing(problem)
    if spared is None:
        return None
    fits = all(
        sum((problem.lengths[i] + problem.kerf) * n for i, n in use.pieces)
        <= spared.bars[use.bar].usable + problem.kerf
        for use in uses
    )
    return spared if fits else None


def _charges(bars: tuple[BarKind, ...], uses: tuple[PatternUse, ...], new: int) -> int:
    """Give what the offcuts are charged with."""
    return sum(bars[use.bar].cost * use.times for use in uses if use.bar >= new)
