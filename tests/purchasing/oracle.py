"""The least money by trying everything: every way to fill the bars, every number of bars ordered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from nesting.domain.problem import Problem
from nesting.purchasing.market import Market
from nesting.purchasing.offer import Offer


def least_money(problem: Problem, market: Market, most: int) -> int | None:
    """Give the least money, no more than ``most`` bars of a line ever being ordered; None when short."""
    return min((cost for _, cost in purchases(problem, market, most)), default=None)


def purchases(problem: Problem, market: Market, most: int) -> Iterator[tuple[tuple[int, ...], int]]:
    """Give every order that lets all pieces be cut, bars of each line, with what it comes to."""
    kinds = len(market.uses)
    for opened in _openings(problem):
        offcuts = sum(bar.cost * n for bar, n in zip(problem.bars[kinds:], opened[kinds:], strict=True))
        for ordered in product(*(_orders(offer, most) for offer in market.offers)):
            price = _price(market, opened[:kinds], ordered)
            if price is not None:
                yield ordered, price + offcuts


def _orders(offer: Offer, most: int) -> list[int]:
    top = most if offer.most is None else min(most, offer.most)
    return [b for b in range(0, top + 1, offer.pack) if b == 0 or b >= offer.minimum]


def _price(market: Market, opened: Sequence[int], ordered: Sequence[int]) -> int | None:
    total = 0
    for o, offer in enumerate(market.offers):
        need = offer.reserve + sum(n for n, uses in zip(opened, market.uses, strict=True) if o in uses)
        hand = max(need - ordered[o], 0)
        if hand > offer.hand:
            return None
        bucket = sum(
            b for b, other in zip(ordered, market.offers, strict=True) if other.bucket == offer.bucket
        )
        prices = [offer.price]
        prices += [price for least, price in offer.line_breaks if ordered[o] >= least]
        prices += [price for least, price in offer.total_breaks if bucket >= least]
        total += ordered[o] * min(prices) + hand * offer.hand_cost
    return total


def _openings(problem: Problem) -> set[tuple[int, ...]]:
    """Give every number of bars of each kind in which all pieces can be laid."""
    pieces = [length for length, n in zip(problem.lengths, problem.counts, strict=True) for _ in range(n)]
    found: set[tuple[int, ...]] = set()
    for bars in _layings(problem, pieces, ()):
        opened = [0] * len(problem.bars)
        for kind, _ in bars:
            opened[kind] += 1
        limits = (bar.count for bar in problem.bars)
        if all(limit is None or n <= limit for n, limit in zip(opened, limits, strict=True)):
            found.add(tuple(opened))
    return found


def _layings(
    problem: Problem, pieces: Sequence[int], bars: tuple[tuple[int, int], ...]
) -> Iterator[tuple[tuple[int, int], ...]]:
    """Lay the pieces one by one on every bar begun and on every new one."""
    if not pieces:
        yield bars
        return
    size = pieces[0] + problem.kerf
    for place, (kind, room) in enumerate(bars):
        if room >= size and (kind, room) not in bars[:place]:
            yield from _layings(problem, pieces[1:], (*bars[:place], (kind, room - size), *bars[place + 1 :]))
    for kind, bar in enumerate(problem.bars):
        room = bar.length - bar.head - bar.tail + problem.kerf
        if room >= size:
            yield from _layings(problem, pieces[1:], (*bars, (kind, room - size)))
