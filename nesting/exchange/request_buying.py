"""How a shop buys, as JSON: price breaks of a line, and what holds for the whole order."""

from __future__ import annotations

from typing import ClassVar

from pydantic import StrictBool

from nesting.domain.buying import BreakScope, BuyingRules, OffcutValue, PriceBreak, Spares
from nesting.exchange.json_numbers import Count, MaybePrice, MaybeShare, Price, Share
from nesting.exchange.request_part import RequestPart
from nesting.money import NO_MONEY


class BreakPart(RequestPart):
    """A lower price of every bar of a line once enough bars are ordered."""

    domain: ClassVar[type] = PriceBreak
    silent: ClassVar[frozenset[str]] = frozenset({"scope"})

    bars: Count
    """Bars ordered from which it holds."""
    price: MaybePrice = None
    """Price of one bar then; null when a share is taken off instead."""
    off: MaybeShare = None
    """Share taken off the list price, such as '10 %'; null when a price is given."""
    scope: BreakScope = BreakScope.LINE
    """line: this length's bars count; total: all bars of the material from the same supplier."""


class OffcutValuePart(RequestPart):
    """What an offcut without a value of its own counts for, as a share of a new bar's price by length."""

    domain: ClassVar[type] = OffcutValue

    low: Share = 5_000
    """Share at the keep length; below it the offcut counts for nothing."""
    high: Share = 9_000
    """Share at the longest stock length; less than 100 %."""


class SparesPart(RequestPart):
    """Reserve of every material."""

    domain: ClassVar[type] = Spares
    silent: ClassVar[frozenset[str]] = frozenset({"bars", "share", "from_tails"})

    bars: Count = 0
    """Least number of reserve bars."""
    share: Share = 0
    """Reserve bars as a share of the new bars needed, rounded up."""
    from_tails: StrictBool = False
    """Whether to list which repeat lengths the tails would give at no extra bar."""


class BuyingPart(RequestPart):
    """What holds for the whole order."""

    domain: ClassVar[type] = BuyingRules
    silent: ClassVar[frozenset[str]] = frozenset({"fetch", "spares", "least_order", "budget"})

    fetch: Price = NO_MONEY
    """Cost of fetching one offcut, on top of its value."""
    offcut_value: OffcutValuePart | None = None
    """Value of offcuts that name none; null: they are free."""
    spares: SparesPart = SparesPart()
    """Reserve."""
    needed_by: str = ""
    """Date by which the bars have to be there, ISO 8601, such as 2027-03-31."""
    least_order: Price = NO_MONEY
    """Least sum every supplier charges for an order; 0 when there is none."""
    budget: MaybePrice = None
    """What the order may come to; null when nobody said."""
