"""The next-best purchase, to weigh against the cheapest; and purchases of some lengths only."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from nesting.domain.plan import Alternative
from nesting.domain.progress import Progress, StopReason
from nesting.planning.group import Group, on_terms
from nesting.planning.settle import Settled, opened, settle
from nesting.purchasing.market import Market
from nesting.purchasing.search import QUICK
from nesting.stop import NEVER, AnyOf, MaxRounds, Stop
from nesting.units import Length

# Beyond this many distinct lengths the alternatives would take longer than the plan.
MOST_LENGTHS = 60
# What a plan took, this many times, and this many rounds more: then one search for another purchase ends.
ROUNDS = (2, 4_000)


def next_best(settled: Settled, *, seed: int = 0, stop: Stop = NEVER) -> Alternative | None:
    """
    Give the cheapest purchase that orders fewer bars of some length than the plan does.

    Any other purchase is the plan's with bars added. So each length bought is limited in turn to fewer bars
    than are ordered; the cheapest of these answers is the next best, proved when no bound of the others is
    below it. A search ends where it cannot beat the ones before it, or after so many rounds.

    None when only one length is on offer, when the pieces are too varied to be planned several times over,
    when bars run out, when bars are ordered already, or when nothing was found in time.
    """
    group = settled.group
    best = _ordered(settled)
    lengths = {group.problem.bars[k].length for k in range(len(group.market.uses))}
    if len(lengths) < 2 or not best or len(group.problem.lengths) > MOST_LENGTHS or settled.result.short:
        return None
    if any(offer.kept or offer.ordered for offer in group.market.offers):
        return None
    factor, more = ROUNDS
    rounds = MaxRounds(factor * settled.result.report.rounds + more)
    found: Alternative | None = None
    open_bounds: list[int] = []
    for limited in _with_fewer(settled):
        enough = _Enough(settled.result.cost, None if found is None else found.cost)
        # How its tails fall is told to nobody, and its proof is not worth the longest searches.
        other = settle(limited, seed=seed, stop=AnyOf(enough, rounds, stop), params=QUICK)
        if other.result.ended in (StopReason.TIME, StopReason.CANCELLED):
            open_bounds.append(0)
        if other.result.short_bound or _reserve(other) < group.spares.reserve(
            sum(opened(other.group, other.result))
        ):
            continue
        open_bounds.append(0 if other.result.short else other.result.bound)
        bars = _ordered(other)
        if not other.result.short and bars != best:
            made = Alternative(bars=bars, cost=other.result.cost, proved=False)
            found = min((one for one in (found, made) if one), key=lambda one: (one.cost, one.bars))
    if found is None:
        return None
    return replace(found, proved=found.cost <= max(min(open_bounds), settled.result.bound))


@dataclass(frozen=True, slots=True)
class _Enough:
    """Ends a search that costs no more than the plan, which nothing can beat, or cannot beat another one."""

    least: int
    beaten: int | None

    def __call__(self, now: Progress) -> StopReason | None:
        if now.short or now.best is None:
            return None
        beaten = self.beaten is not None and now.bound is not None and now.bound >= self.beaten
        return StopReason.EXHAUSTED if now.best <= self.least or beaten else None


def _with_fewer(settled: Settled) -> Iterator[Group]:
    """Give the group with each stock line it orders from limited to fewer bars than it orders."""
    group = settled.group
    free = [replace(offer, reserve=0) for offer in group.market.offers]
    for line in sorted({uses[0] for uses in group.market.uses if uses}):
        if bars := settled.bill.deals[line].bars:
            offers = (*free[:line], replace(free[line], most=bars - 1), *free[line + 1 :])
            yield on_terms(group, replace(group.market, offers=offers))


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


def _reserve(settled: Settled) -> int:
    """Give the reserve that is ordered of the material itself."""
    offers = settled.group.market.offers
    return sum(offers[o].reserve for o in {uses[0] for uses in settled.group.market.uses if uses})
