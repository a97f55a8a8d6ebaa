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


def single_lengths(group: Group) -> tuple[Group, ...]:
    """Give the group with each length on offer alone, where there are several and one holds all pieces."""
    lengths = _lengths(group)
    if len(lengths) < 2:
        return ()
    return tuple(only for length in lengths if (only := restricted(group, [length])) is not None)


def with_each_unlisted(group: Group, unlisted: Sequence[Length]) -> tuple[Group, ...]:
    """
    Give the group with each unlisted length on offer beside the listed ones.

    A longer bar does not join runs that were divided for a shorter one. An unlisted length is sold bar by
    bar, by the metre like the listed ones beside it.
    """
    wanted = [length for length in unlisted if length not in _lengths(group)]
    return tuple(more for length in wanted if (more := with_unlisted(group, length)) is not None)


def mixes(groups: Sequence[Group], choice: Choice, solver: Solver) -> Iterator[Mix]:
    """Give the cheapest purchase of each group; none of one length alone where it leaves pieces out."""
    for group in groups:
        settled = solver.settle(group)
        if choice is not Choice.SINGLE or not settled.result.short:
            yield _mix(group, settled, choice)


def _lengths(group: Group) -> tuple[Length, ...]:
    return tuple(sorted({bar.length for bar in group.problem.bars[: len(group.market.uses)]}))


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
    result = settled.result
    left_out = sum(result.best.short)
    unlisted = [o for o in group.market.offers if o.line == _UNLISTED]
    return Mix(
        material=group.material,
        choice=choice,
        lengths=tuple(sorted({group.problem.bars[k].length for k in range(len(used))})),
        bars=tuple(sorted((length, count) for length, count in bars.items() if count)),
        cost=result.cost,
        proved=result.proved and not left_out,
        priced=group.priced,
        # What leaves pieces out may cost less than any plan of them all: its bound says nothing of them.
        bound=None if result.proved or left_out else result.bound,
        left_out=left_out,
        assumed=unlisted[0].price if unlisted and group.priced else None,
    )
