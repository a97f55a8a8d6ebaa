"""The bars of a settled bill cut as sparingly as possible; what is not opened stays whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from nesting.domain.packing import Packing, cost_of
from nesting.domain.problem import Problem
from nesting.domain.progress import Result
from nesting.purchasing.market import Bill, Market


def tidy(
    problem: Problem, market: Market, packing: Packing, bill: Bill, solve: Callable[[Problem], Result]
) -> Packing:
    """
    Cut the pieces from the bars of a bill so that the bars opened are worth the least.

    Bars that come with a pack or a break are free to the search, so it may open more of them than
    it needs; whole they are worth more on the shelf.
    """
    opened = [0] * len(problem.bars)
    for use in packing.uses:
        opened[use.bar] += use.times
    at_hand = _at_hand(market, bill, opened)
    if at_hand == opened[: len(market.uses)]:
        return packing
    bars = tuple(
        replace(bar, count=at_hand[k]) if k < len(at_hand) else replace(bar, count=opened[k])
        for k, bar in enumerate(problem.bars)
    )
    sparing = solve(replace(problem, bars=bars)).best
    better = not any(sparing.short) and cost_of(problem, sparing) < cost_of(problem, packing)
    return sparing if better else packing


def _at_hand(market: Market, bill: Bill, opened: list[int]) -> list[int]:
    """Give the bars of each kind that the bill pays for; a shared cover is handed out once."""
    spare = [
        deal.bars + deal.hand - offer.held - need
        for offer, deal, need in zip(
            market.offers, bill.deals, market.needs(opened[: len(market.uses)]), strict=True
        )
    ]
    at_hand = []
    for kind, uses in enumerate(market.uses):
        more = max(min(spare[o] for o in uses), 0)
        for o in uses:
            spare[o] -= more
        at_hand.append(opened[kind] + more)
    return at_hand
