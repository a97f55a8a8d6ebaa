"""All stock lines of one material together, and the bill for any number of bars of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import gcd

from nesting.purchasing.fill import fill_up
from nesting.purchasing.offer import Deal, Offer

Tiers = tuple[int, ...]
"""Bars each bucket is known to order at least."""


@dataclass(frozen=True, slots=True)
class Bill:
    """
    The cheapest way to have some bars.

    Parameters
    ----------
    cost
        What it comes to.
    deals
        One for each offer, in the market's order.
    """

    cost: int
    deals: tuple[Deal, ...]


@dataclass(frozen=True, slots=True)
class Market:
    """
    What one material can be cut from, and at what price.

    Parameters
    ----------
    offers
        Stock lines, covers that go with the channel included.
    uses
        For each kind of new bar the offers that opening one bar takes a bar of.
    """

    offers: tuple[Offer, ...]
    uses: tuple[tuple[int, ...], ...]

    @property
    def plain(self) -> bool:
        """Whether every bar costs its list price."""
        return all(offer.plain for offer in self.offers)

    @property
    def buckets(self) -> int:
        """Number of buckets."""
        return max((offer.bucket for offer in self.offers), default=-1) + 1

    @property
    def grid(self) -> int:
        """Greatest common divisor of all prices: every bill is a multiple of it."""
        prices = [price for offer in self.offers for price in offer.units()]
        return gcd(*prices, *(offer.hand_cost for offer in self.offers if offer.hand))

    def tiers(self) -> tuple[Tiers, ...]:
        """Give every choice of breaks on totals: bars from which one holds, 0 for none, per bucket."""
        steps = []
        for bucket in range(self.buckets):
            own = [offer for offer in self.offers if offer.bucket == bucket]
            steps.append(sorted({0, *(bars for offer in own for bars, _ in offer.total_breaks)}))
        return tuple(product(*steps))

    def limit(self, kind: int) -> int | None:
        """Give the most bars of a kind that can be had; None when unlimited."""
        limits = [self.offers[o].limit for o in self.uses[kind]]
        known = [limit for limit in limits if limit is not None]
        return min(known) if known else None

    def needs(self, opened: Sequence[int]) -> list[int]:
        """Give the bars of each offer that the opened bars of each kind take."""
        needs = [0] * len(self.offers)
        for kind, bars in enumerate(opened):
            for offer in self.uses[kind]:
                needs[offer] += bars
        return needs

    def bill(self, opened: Sequence[int]) -> Bill | None:
        """Give the cheapest bill for the opened bars of each kind; None when there are too few bars."""
        bills = [bill for tiers in self.tiers() if (bill := self.bill_at(opened, tiers))]
        return min(bills, key=lambda bill: (bill.cost, bill.deals), default=None)

    def bill_at(self, opened: Sequence[int], tiers: Tiers) -> Bill | None:
        """Give the cheapest bill that orders at least ``tiers`` bars of each bucket, at their prices."""
        needs = self.needs(opened)
        deals: list[Deal | None] = [
            offer.deal(need, tiers[offer.bucket]) for offer, need in zip(self.offers, needs, strict=True)
        ]
        if None in deals:
            return None
        for bucket, least in enumerate(tiers):
            own = [o for o, offer in enumerate(self.offers) if offer.bucket == bucket]
            if sum(deal.bars for o in own if (deal := deals[o])) < least:
                filled = fill_up([(self.offers[o], needs[o]) for o in own], least)
                if filled is None:
                    return None
                for o, deal in zip(own, filled, strict=True):
                    deals[o] = deal
        made = tuple(deal for deal in deals if deal)
        return Bill(sum(deal.cost for deal in made), made)


NO_MARKET = Market((), ())
"""Nothing is for sale."""
