"""A range of bars for each kind, and the ordinary cutting problem that bounds the money in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import lcm

from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import BarKind, Problem
from nesting.purchasing.envelope import Envelope
from nesting.purchasing.market import Market, Tiers

_FINEST = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """
    Some of all plans: those that open ``lows`` to ``highs`` bars of each kind at the ``tiers``' prices.

    Parameters
    ----------
    rewarded
        Buckets whose total is short of its tier, so that each bar ordered counts towards it.
    bound
        Proven lower bound on the money of any plan in it.
    """

    lows: tuple[int, ...]
    highs: tuple[int, ...]
    tiers: Tiers
    rewarded: frozenset[int] = frozenset()
    bound: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """
    A cutting problem whose cost, scaled, plus ``fixed`` is never above the money of a plan of the box.

    Every new bar costs what the lower convex envelope of the bill says (J. E. Falk and R. M. Soland, An
    algorithm for separable nonconvex programming problems, Management Science 15, 1969, 550-569); bars
    beyond the box cost so much more that no plan using them can beat the cutoff.

    Parameters
    ----------
    problem
        Its bars: for each kind one entry a step of the envelope, then the offcuts.
    owners
        Index into the original problem's bars of each of its bars.
    fixed, scale
        Money = ``fixed`` + cost / ``scale``.
    envelopes
        One for each kind of new bar, offers shared by several kinds left out.
    """

    problem: Problem
    owners: tuple[int, ...]
    fixed: Fraction
    scale: int
    envelopes: tuple[Envelope, ...]

    def money(self, bound: int) -> Fraction:
        """Give the money that a cost of the problem stands for."""
        return self.fixed + Fraction(bound, self.scale)

    def cost_at(self, money: int) -> int:
        """Give the least cost of the problem that stands for at least so much money."""
        return -(-(money - self.fixed) * self.scale // 1)

    def exact_at(self, opened: Sequence[int]) -> bool:
        """Whether the envelopes are exact at the bars opened, and none is beyond its range."""
        pairs = zip(self.envelopes, opened, strict=True)
        return all(n <= envelope.high and envelope.error(max(n, envelope.low)) == 0 for envelope, n in pairs)

    def unfold(self, packing: Packing) -> Packing:
        """Give a packing of the problem as one of the original problem."""
        times: dict[tuple[int, tuple[tuple[int, int], ...]], int] = {}
        for use in packing.uses:
            key = (self.owners[use.bar], use.pieces)
            times[key] = times.get(key, 0) + use.times
        return Packing(
            tuple(PatternUse(bar, pieces, n) for (bar, pieces), n in sorted(times.items())), packing.short
        )


def relax(problem: Problem, market: Market, box: Box, cutoff: int) -> Relaxed:
    """Set out the cutting problem of a box; plans of ``cutoff`` and more are of no interest."""
    rewards = [_reward(market, box, bucket) for bucket in range(market.buckets)]
    fixed = Fraction(sum(reward * tier for reward, tier in zip(rewards, box.tiers, strict=True)))
    shared = {o for o in range(len(market.offers)) if sum(o in uses for uses in market.uses) > 1}
    slopes: dict[int, Fraction] = {}
    for o in shared:
        kinds = [k for k, uses in enumerate(market.uses) if o in uses]
        low, high = sum(box.lows[k] for k in kinds), sum(box.highs[k] for k in kinds)
        envelope = Envelope.of(low, _costs(market, box, rewards, [o], low, high))
        slopes[o] = min((price for _, price in envelope.steps()), default=Fraction(0))
        # The line through the first corner lies below the envelope of the shared offer.
        fixed += envelope.costs[0] - slopes[o] * low
    envelopes = tuple(
        Envelope.of(low, _costs(market, box, rewards, [o for o in uses if o not in shared], low, high))
        for uses, low, high in zip(market.uses, box.lows, box.highs, strict=True)
    )
    fixed += sum(envelope.costs[0] for envelope in envelopes)
    steps: list[list[tuple[int, Fraction]]] = []
    for uses, envelope in zip(market.uses, envelopes, strict=True):
        more = sum((slopes[o] for o in uses if o in shared), Fraction(0))
        # Bars of the lower end are paid for in ``fixed``, but for their part of a shared offer.
        steps.append([(envelope.low, more), *((bars, price + more) for bars, price in envelope.steps())])
    scale = lcm(*(price.denominator for own in steps for _, price in own))
    if scale > _FINEST:
        scale = _FINEST
    dearest = max((price for own in steps for _, price in own), default=Fraction(0))
    # What is fixed and one bar beyond the box alone reach the cutoff.
    beyond = max(-(-(cutoff - fixed) * scale // 1), int(dearest * scale) + 1)
    bars: list[BarKind] = []
    owners: list[int] = []
    for kind, own in enumerate(steps):
        asked = problem.bars[kind]
        limit = market.limit(kind)
        rest = None if limit is None else max(limit - box.highs[kind], 0)
        for place, (count, cost) in enumerate(
            [*((n, int(price * scale)) for n, price in own), (rest, beyond)]
        ):
            if count != 0 or place == len(own):
                bars.append(_bar(asked, f"{asked.key}/{place}", cost, count))
                owners.append(kind)
    for index in range(len(market.uses), len(problem.bars)):
        offcut = problem.bars[index]
        bars.append(_bar(offcut, offcut.key, offcut.cost * scale, offcut.count))
        owners.append(index)
    relaxed = Problem(
        name=problem.name,
        lengths=problem.lengths,
        counts=problem.counts,
        bars=tuple(bars),
        kerf=problem.kerf,
        keep_length=problem.keep_length,
    )
    return Relaxed(problem=relaxed, owners=tuple(owners), fixed=fixed, scale=scale, envelopes=envelopes)


def parts_of(box: Box, relaxed: Relaxed, opened: Sequence[int]) -> list[Box]:
    """Divide a box in two, where the envelope is farthest below the bill of the plan found."""
    inside = [min(max(n, low), high) for n, low, high in zip(opened, box.lows, box.highs, strict=True)]
    errors = [envelope.error(n) for envelope, n in zip(relaxed.envelopes, inside, strict=True)]
    kind = max(range(len(errors)), key=lambda k: (errors[k], box.highs[k] - box.lows[k]))
    low, high = box.lows[kind], box.highs[kind]
    if low == high:
        return []
    start = relaxed.envelopes[kind].worst(inside[kind]) if errors[kind] > 0 else None
    if start is None:
        start = min(max(inside[kind], low + 1), high)
    box = replace(box, rewarded=frozenset())
    lower = replace(box, highs=(*box.highs[:kind], start - 1, *box.highs[kind + 1 :]))
    upper = replace(box, lows=(*box.lows[:kind], start, *box.lows[kind + 1 :]))
    return [lower, upper]


def _bar(like: BarKind, key: str, cost: int, count: int | None) -> BarKind:
    return BarKind(
        key=key,
        length=like.length,
        head=like.head,
        tail=like.tail,
        cost=cost,
        count=count,
        offcut=like.offcut,
    )


def _reward(market: Market, box: Box, bucket: int) -> int:
    """Give what every bar of a bucket is sure to cost at its tier: the price of a bar that only counts."""
    if bucket not in box.rewarded:
        return 0
    total = box.tiers[bucket]
    own = [offer for offer in market.offers if offer.bucket == bucket]
    return min(offer.unit(max([total, *(b for b, _ in offer.line_breaks)]), total) for offer in own)


def _costs(
    market: Market, box: Box, rewards: Sequence[int], offers: Sequence[int], low: int, high: int
) -> list[int]:
    """Give the money of ``low`` to ``high`` bars of some offers together."""
    costs: list[int] = []
    for opened in range(low, high + 1):
        cost = 0
        for o in offers:
            offer = market.offers[o]
            deal = offer.deal(opened, box.tiers[offer.bucket], reward=rewards[offer.bucket])
            if deal is None:
                return costs
            cost += deal.cost
        costs.append(cost)
    return costs
