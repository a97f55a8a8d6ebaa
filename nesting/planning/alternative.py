"""The best of the simpler purchases, to weigh against the cheapest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from nesting.domain.plan import Alternative
from nesting.domain.progress import StopReason
from nesting.planning.group import Group
from nesting.planning.settle import Settled, settle
from nesting.purchasing.market import Market
from nesting.solver.params import ScrapParams, SolverParams
from nesting.stop import NEVER, Stop
from nesting.units import Length

# Beyond this many distinct lengths the alternatives would take longer than the plan.
MOST_LENGTHS = 60
# How an alternative's tails fall is told to nobody.
_COST_ALONE = SolverParams(scrap=ScrapParams(tries=0))


def next_best(settled: Settled, *, seed: int = 0, stop: Stop = NEVER) -> Alternative | None:
    """
    Give the cheapest purchase that buys one length alone, or does without one of the lengths bought.

    None when only one length is on offer, when the pieces are too varied to be planned several times
    over, when bars run out, or when there is no time left.
    """
    group = settled.group
    lengths = {group.problem.bars[k].length for k in range(len(group.market.uses))}
    best = _ordered(settled)
    if len(lengths) < 2 or not best or len(group.problem.lengths) > MOST_LENGTHS or settled.result.short:
        return None
    choices = {frozenset((length,)) for length in lengths}
    choices |= {frozenset(lengths - {length}) for length, _ in best}
    found: list[Alternative] = []
    for choice in sorted(choices - {frozenset(length for length, _ in best)}, key=sorted):
        only = restricted(group, choice)
        if only is None:
            continue
        other = settle(only, seed=seed, stop=stop, params=_COST_ALONE)
        if other.result.ended in (StopReason.TIME, StopReason.CANCELLED):
            return None
        if not other.result.short and _ordered(other) != best:
            found.append(
                Alternative(bars=_ordered(other), cost=other.result.cost, proved=other.result.proved)
            )
    return min(found, key=lambda other: (other.cost, other.bars), default=None)


def restricted(group: Group, lengths: Iterable[Length]) -> Group | None:
    """Give the group with new bars of some lengths only, offcuts kept; None when its pieces do not fit."""
    wanted = set(lengths)
    new = len(group.market.uses)
    kinds = [k for k in range(new) if group.problem.bars[k].length in wanted]
    bars = (*(group.problem.bars[k] for k in kinds), *group.problem.bars[new:])
    if not kinds or max(bar.usable for bar in bars) < group.problem.lengths[0]:
        return None
    used = sorted({o for k in kinds for o in group.market.uses[k]})
    market = Market(
        tuple(replace(group.market.offers[o], reserve=0) for o in used),
        tuple(tuple(used.index(o) for o in group.market.uses[k]) for k in kinds),
    )
    return replace(group, market=market, problem=replace(group.problem, bars=bars))


def _ordered(settled: Settled) -> tuple[tuple[Length, int], ...]:
    """Give (length, bars ordered) of the material itself, covers that go with it left out."""
    group = settled.group
    bars: Counter[Length] = Counter()
    for kind, uses in enumerate(group.market.uses):
        bars[group.problem.bars[kind].length] += settled.bill.deals[uses[0]].bars if uses else 0
    return tuple(sorted((length, count) for length, count in bars.items() if count))
