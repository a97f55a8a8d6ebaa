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
    An unlisted length is sold bar by bar, by the metre like the listed ones beside it.
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
    Give the group with one more length on offer; None when no piece fits it or no price can be assumed.

    Its price is that of `likely_price`, whatever the number of bars.
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
    if kind.usable < group.problem.lengths[-1] or not kind.cost:
        return None
    offer = Offer(line=_UNLISTED, bucket=group.market.buckets, price=kind.cost)
    market = Market((*group.market.offers, offer), (*group.market.uses, (len(group.market.offers),)))
    bars = (*group.problem.bars[:new], kind, *group.problem.bars[new:])
    return replace(group, market=market, problem=replace(group.problem, bars=bars))


def likely_price(group: Group, length: Length) -> int:
    """
    Give the price to assume for a bar of an unlisted length, rounded up to a hundredth; 0 when there is none.

    By the metre, as the nearest shorter and the nearest longer listed length, the dearer of the two; but no
    more than a listed bar that is longer, which could be bought instead. No bar is assumed to cost less a
    metre than the cheapest listed one: two prices on a line say nothing about lengths beyond them.
    """
    listed = sorted((bar.length, bar.cost) for bar in group.problem.bars[: len(group.market.uses)])
    shorter = [bar for bar in listed if bar[0] <= length]
    longer = [bar for bar in listed if bar[0] >= length]
    # Of bars of one length the cheapest counts.
    beside = [(max(shorter, key=lambda bar: (bar[0], -bar[1])))] if shorter else []
    beside += longer[:1]
    by_length = max(-(-price * length // own) for own, price in beside)
    exact = min([by_length, *(price for _, price in longer)])
    return -(-exact // 100) * 100


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
