"""Bars that can be bought or are on hand, and offcuts on the rack."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.buying import BreakScope, PriceBreak, share_off
from nesting.domain.dates import day_of
from nesting.domain.material import Part
from nesting.domain.rules import SawRules
from nesting.errors import NOWHERE, ProblemError, Where
from nesting.money import NO_MONEY, Money
from nesting.units import NO_LENGTH, Length


class EndState(StrEnum):
    """Whether a bar end is a clean saw face or still raw."""

    CLEAN = "clean"
    RAW = "raw"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLine:
    """
    One stock length on offer.

    Parameters
    ----------
    length
        Nominal length; over-measure is never planned on.
    price
        List price of one bar; None when unknown.
    count
        Bars that can be had, those on hand included; None when unlimited.
    pack
        Bars sold together; only whole packs can be ordered.
    minimum
        Fewest bars that can be ordered when any are; 0 for no limit.
    breaks
        Lower prices from a number of bars on.
    on_hand, hand_value
        Bars already paid for, and what taking one costs the job; None means nothing.
    supplier
        Whom it is bought from; breaks on the total count one supplier's bars of a material.
    lead_days
        Days from order to delivery; None when unknown.
    """

    family: str
    finish: str = ""
    part: Part = Part.CHANNEL
    length: Length
    price: Money | None = None
    count: int | None = None
    pack: int = 1
    minimum: int = 0
    breaks: tuple[PriceBreak, ...] = ()
    on_hand: int = 0
    hand_value: Money | None = None
    supplier: str = ""
    lead_days: int | None = None
    where: Where = NOWHERE

    def __post_init__(self) -> None:
        """Refuse bars of no length, negative counts and breaks that make bars dearer."""
        if self.length <= 0:
            raise ProblemError("A stock length must be more than zero.")
        if self.count is not None and self.count < 0:
            raise ProblemError("The count of bars is negative.")
        if self.pack < 1:
            raise ProblemError("A pack holds at least one bar.")
        if self.minimum < 0 or self.on_hand < 0 or (self.lead_days or 0) < 0:
            raise ProblemError("Minimum order, bars on hand and lead days must not be negative.")
        if self.count is not None and self.on_hand > self.count:
            raise ProblemError("More bars are on hand than can be had.")
        for one in self.breaks:
            if self.price is None and one.off is not None:
                raise ProblemError("A share off needs a list price.")
            if self.price is not None and self.price_after(one) > self.price:
                raise ProblemError(f"From {one.bars} bars the price is above the list price.")

    @property
    def plain(self) -> bool:
        """Whether every bar costs the list price, however many are ordered."""
        return self.pack == 1 and self.minimum <= 1 and not self.breaks and not self.on_hand

    def price_after(self, reached: PriceBreak) -> Money:
        """Give the price of one bar once a break is reached; the list price must be known for a share."""
        if reached.price is not None:
            return reached.price
        return share_off(self.price or NO_MONEY, reached.off or 0)

    def breaks_on(self, scope: BreakScope) -> tuple[PriceBreak, ...]:
        """Give the breaks that count the bars of one scope."""
        return tuple(one for one in self.breaks if one.scope is scope)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """
    One tagged offcut on the rack.

    Parameters
    ----------
    tag
        Unique, never used again.
    length
        Measured, not calculated.
    left, right
        State of its ends; our own saw leaves one clean and one raw end.
    value
        What taking it costs the job; None means nothing.
    born
        Day it was cut, ISO 8601, as far as it is known: of offcuts that serve equally well the oldest
        is taken.
    """

    tag: str
    family: str
    finish: str = ""
    part: Part = Part.CHANNEL
    length: Length
    left: EndState = EndState.CLEAN
    right: EndState = EndState.RAW
    lot: str = ""
    place: str = ""
    value: Money | None = None
    born: str = ""
    where: Where = NOWHERE

    def __post_init__(self) -> None:
        """Refuse offcuts without a tag or a length, or of a day that is none."""
        if self.born:
            day_of(self.born)
        if not self.tag:
            raise ProblemError("An offcut needs a tag.")
        if self.length <= 0:
            raise ProblemError(f"Offcut {self.tag!r}: the length must be more than zero.")

    def losses(self, saw: SawRules) -> tuple[Length, Length]:
        """
        Head trim and tail loss of this offcut on a saw (common practice, no source).

        A clean end needs no trim and leads; an offcut with one raw end is turned so that the raw
        end is the far one.
        """
        raw = (self.left, self.right).count(EndState.RAW)
        return (
            saw.head_trim if raw == 2 else NO_LENGTH,
            saw.tail_loss if raw >= 1 else NO_LENGTH,
        )
