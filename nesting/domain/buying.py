"""How a shop buys: price breaks, what an offcut is worth, spares, the date."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.dates import day_of
from nesting.errors import ProblemError
from nesting.money import NO_MONEY, Money
from nesting.units import Length

FULL = 10_000
"""The whole in hundredths of a per cent: 10 % is 1000."""


class BreakScope(StrEnum):
    """Whose bars count towards a price break: this length's, or all lengths' of the material."""

    LINE = "line"
    TOTAL = "total"


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceBreak:
    """
    A lower price of every bar of a line once enough bars are ordered.

    Of several breaks that are reached the lowest price counts; they are never added up.

    Parameters
    ----------
    bars
        Bars ordered from which it holds.
    price
        Price of one bar then; None when a share is taken off instead.
    off
        Share taken off the list price, in hundredths of a per cent; None when a price is given.
    scope
        Whose bars count: those of this stock length, or all of the material from the same supplier.
    """

    bars: int
    price: Money | None = None
    off: int | None = None
    scope: BreakScope = BreakScope.LINE

    def __post_init__(self) -> None:
        """Refuse breaks that say no price, or two."""
        if self.bars < 1:
            raise ProblemError("A price break needs a number of bars, at least 1.")
        if (self.price is None) == (self.off is None):
            raise ProblemError("A price break gives either a price or a share off.")
        if self.off is not None and not 0 < self.off <= FULL:
            raise ProblemError("A share off must be more than 0 and at most 100 per cent.")
        if self.price is not None and self.price < 0:
            raise ProblemError("The price after a break is negative.")


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutValue:
    """
    What an offcut without a value of its own counts for: nothing when short, never a full bar's price.

    value = price a length of new bar x length x share, where the share rises in a straight line from
    ``low`` at the keep length to ``high`` at the longest stock length; below the keep length it is 0
    (common practice, no source).

    Parameters
    ----------
    low, high
        Shares in hundredths of a per cent.
    """

    low: int = 5_000
    high: int = 9_000

    def __post_init__(self) -> None:
        """Refuse shares that fall, or that reach the full price."""
        if not 0 <= self.low <= self.high < FULL:
            raise ProblemError("An offcut's share must rise from 0 or more and stay below 100 per cent.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spares:
    """
    What is bought, or cut from tails, beyond the need, material by material.

    Parameters
    ----------
    bars
        Least number of reserve bars.
    share
        Reserve bars as a share of the new bars needed without it, in hundredths of a per cent,
        rounded up.
    from_tails
        Whether to list which repeat lengths the tails would give at no extra bar.
    """

    bars: int = 0
    share: int = 0
    from_tails: bool = False

    def __post_init__(self) -> None:
        """Refuse a negative reserve."""
        if self.bars < 0 or not 0 <= self.share <= FULL:
            raise ProblemError("A reserve must not be negative, its share at most 100 per cent.")

    def reserve(self, needed: int) -> int:
        """Give the reserve bars for a number of new bars needed; none where none are needed."""
        return max(self.bars, -(-needed * self.share // FULL)) if needed else 0


NO_SPARES = Spares()


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingRules:
    """
    What holds for the whole order.

    Parameters
    ----------
    fetch
        Cost of finding and fetching one offcut, on top of its value.
    offcut_value
        Value of offcuts that name none; None: they are free.
    spares
        Reserve.
    needed_by
        Date by which the bars have to be there, ISO 8601 (2027-03-31); empty when unknown.
    least_order
        Least sum every supplier charges for an order, all its lines together. Each pays the larger of
        the two, so what is least for one supplier's lines stays least; 0 when there is none.
    budget
        What the order may come to; None when nobody said. It is compared with the order and limits nothing.
    """

    fetch: Money = NO_MONEY
    offcut_value: OffcutValue | None = None
    spares: Spares = NO_SPARES
    needed_by: str = ""
    least_order: Money = NO_MONEY
    budget: Money | None = None

    def __post_init__(self) -> None:
        """Refuse negative amounts and a date that is none."""
        if self.fetch < 0:
            raise ProblemError("The cost of fetching an offcut is negative.")
        if self.least_order < 0 or (self.budget or 0) < 0:
            raise ProblemError("Least order and budget must not be negative.")
        if self.needed_by:
            day_of(self.needed_by)


PLAIN_BUYING = BuyingRules()


def share_off(price: Money, off: int) -> Money:
    """Give a price less a share in hundredths of a per cent, to the nearest ten-thousandth, half up."""
    return Money((2 * price * (FULL - off) + FULL) // (2 * FULL))


def offcut_worth(
    length: Length,
    *,
    keep: Length,
    longest: Length,
    prices: tuple[tuple[Money, Length], ...],
    rule: OffcutValue,
) -> Money:
    """
    Give what an offcut counts for by a rule, rounded down to a ten-thousandth.

    Parameters
    ----------
    keep, longest
        Keep length, and longest stock length of the material.
    prices
        (price, length) of the new bars of the material; the cheapest by length is the measure.
    """
    if length < keep or not prices:
        return NO_MONEY
    price, whole = min(prices, key=lambda bar: (bar[0] * 10**12 // bar[1], bar[1]))
    span = max(longest - keep, 1)
    # share = low + (high - low) * (length - keep) / span, all in one fraction so that it is rounded once
    share = rule.low * span + (rule.high - rule.low) * min(length - keep, span)
    return Money(price * length * share // (whole * span * FULL))
