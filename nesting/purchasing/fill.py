"""Ordering more bars than are needed, because the total then reaches a break."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.purchasing.offer import Deal, Offer

Ints = NDArray[np.int64]
_NEVER = np.int64(2**62)


def fill_up(needs: Sequence[tuple[Offer, int]], least: int) -> list[Deal] | None:
    """
    Give the cheapest deals that together order at least ``least`` bars; None when they cannot.

    A dynamic programme over the bars ordered so far, counted up to ``least``.

    Parameters
    ----------
    needs
        (offer, bars opened) of one bucket.
    """
    cost = np.full(least + 1, _NEVER)
    cost[0] = 0
    steps: list[tuple[list[Deal], Ints, Ints]] = []
    for offer, opened in needs:
        deals = _options(offer, opened, least)
        after = np.full(least + 1, _NEVER)
        choice, came = np.zeros(least + 1, np.int64), np.zeros(least + 1, np.int64)
        for number, deal in enumerate(deals):
            reach = min(deal.bars, least)
            moved = np.full(least + 1, _NEVER)
            moved[reach:] = cost[: least + 1 - reach]
            origin = np.arange(least + 1) - reach
            # Whatever would go beyond the end stays there.
            origin[least] = least - reach + int(cost[least - reach :].argmin())
            moved[least] = cost[origin[least]]
            better = (moved < _NEVER) & (moved + deal.cost < after)
            after[better] = moved[better] + deal.cost
            choice[better], came[better] = number, origin[better]
        cost = after
        steps.append((deals, choice, came))
    if cost[least] == _NEVER:
        return None
    place = least
    chosen: list[Deal] = []
    for deals, choice, came in reversed(steps):
        chosen.append(deals[int(choice[place])])
        place = int(came[place])
    return chosen[::-1]


def _options(offer: Offer, opened: int, least: int) -> list[Deal]:
    """Give every number of bars that could be ordered, from the fewest up to the end."""
    needed = offer.needed(opened)
    enough = max(least, needed, *(bars for bars, _ in offer.line_breaks), 0)
    wanted = max(needed - offer.hand, 0)
    found: list[Deal] = []
    while (bars := offer.order_of(wanted)) is not None:
        hand = max(needed - bars, 0)
        unit = offer.unit(bars, least)
        found.append(Deal(bars * unit + hand * offer.hand_cost, bars, unit, hand))
        if bars >= enough:
            break
        wanted = bars + 1
    return found
