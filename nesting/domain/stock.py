"""Bars that can be bought or are on hand, and offcuts on the rack."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.material import Part
from nesting.domain.rules import SawRules
from nesting.errors import NOWHERE, ProblemError, Where
from nesting.money import Money
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
        Price of one bar; None when unknown.
    count
        Bars that can be had; None when unlimited.
    """

    family: str
    finish: str = ""
    part: Part = Part.CHANNEL
    length: Length
    price: Money | None = None
    count: int | None = None
    where: Where = NOWHERE

    def __post_init__(self) -> None:
        """Refuse bars of no length and negative counts."""
        if self.length <= 0:
            raise ProblemError("A stock length must be more than zero.")
        if self.count is not None and self.count < 0:
            raise ProblemError("The count of bars is negative.")


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
    where: Where = NOWHERE

    def __post_init__(self) -> None:
        """Refuse offcuts without a tag or a length."""
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
