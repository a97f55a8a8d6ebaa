"""Which lengths to buy: each alone, all together, and with one that is not on the list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from nesting.advice.comparison import Choice, Mix
from nesting.advice.solving import Solver
from nesting.domain.problem import BarKind
from nesting.planning.alternative import restricted
from nesting.planning.group import Group
from nesting.planning.settle import Settled
from nesting.purchasing.market import Market
from nesting.purchasing.offer import Offer
from nesting.units import Length, mm

# Lengths bars are commonly sold in (common practice, no source).
COMMON_LENGTHS = tuple(mm(length) for length in (1000, 2000, 2500, 3000, 3500, 4000, 5000, 6000))
# Line numbers of unlisted lengths; no request has so many lines.
_UNLISTED = 10**9


def length_mixes(group: Group, unlisted: Sequence[Length], solver: Solver) -> Iterator[Mix]:
    """
    Give the cheapest mix of all lengths on offer, each length alone, and with each unlisted one.

    The pieces stay as they are: a longer bar does not join runs that were divided for a shorter one.
    An unlisted length is sold bar by bar at a price in line with the listed ones.
    """
    yield _mix(group, solver.settle(group), Choice.ALL)
    lengths = sorted({bar.length for bar in group.problem.bars[: len(group.market.uses)]})
    if len(lengths) > 1:
        for length in lengths:
            only = restricted(group, [length])
            if only is not None:
                yield _mix(only, solver.settle(only), Choice.SINGLE)
    for length in unlisted:
        more = with_unlisted(group, length) if length not in lengths else None
        if more is not None:
            yield _mix(more, solver.settle(more), Choice.UNLISTED)


def with_unlisted(group: Group, length: Length) -> Group | None:
    """
    Give the group with one more length on offer; None when no piece fits it or no price is listed.

    Its price is on the straight line through the two listed lengths nearest to it; one listed length
    alone is taken by length. Rounded up to a hundredth of the currency.
    """
    new = len(group.market.uses)
    if not new:
        return None
    model = group.problem.bars[0]
    kind = BarKind(
        key=f"unlisted {length}",
        length=length,
        head=model.head,
        tail=model.tail,
        cost=likely_price(group, length) if group.priced else 1,
    )
    if kind.usable < group.problem.lengths[-1]:
        return None
    offer = Offer(line=_UNLISTED, bucket=group.market.buckets, price=kind.cost)
    market = Market((*group.market.offers, offer), (*group.market.uses, (len(group.market.offers),)))
    bars = (*group.problem.bars[:new], kind, *group.problem.bars[new:])
    return replace(group, market=market, problem=replace(group.problem, bars=bars))


def likely_price(group: Group, length: Length) -> int:
    """Give the price a bar of a length would have in line with the listed ones."""
    listed = sorted({(bar.length, bar.cost) for bar in group.problem.bars[: len(group.market.uses)]})
    if len({own for own, _ in listed}) == 1:
        own, price = listed[0]
        exact = -(-price * length // own)
    else:
        cheapest = dict(reversed(listed))
        near = sorted(cheapest, key=lambda own: (abs(own - length), own))[:2]
        a, b = sorted(near)
        rise = cheapest[b] - cheapest[a]
        exact = cheapest[a] - (-rise * (length - a) // (b - a))
    return max(-(-exact // 100) * 100, 100)


def _mix(group: Group, settled: Settled, choice: Choice) -> Mix:
    bars: Counter[Length] = Counter()
    used = group.market.uses
    for kind, uses in enumerate(used):
        bars[group.problem.bars[kind].length] += settled.bill.deals[uses[0]].bars if uses else 0
    unlisted = [o for o in group.market.offers if o.line == _UNLISTED]
    return Mix(
        material=group.material,
        choice=choice,
        lengths=tuple(sorted({group.problem.bars[k].length for k in range(len(used))})),
        bars=tuple(sorted((length, count) for length, count in bars.items() if count)),
        cost=settled.result.cost,
        proved=settled.result.proved,
        priced=group.priced,
        assumed=unlisted[0].price if unlisted and group.priced else None,
    )
