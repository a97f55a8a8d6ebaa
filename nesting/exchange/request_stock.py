"""What can be cut as JSON objects: stock lengths on offer, offcuts on the rack."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field, StrictInt

from nesting.domain.material import Part as SawnPart
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.exchange.json_lengths import Size
from nesting.exchange.json_numbers import Count, MaybePrice
from nesting.exchange.request_buying import BreakPart
from nesting.exchange.request_findings import WherePart
from nesting.exchange.request_part import RequestPart


class StockPart(RequestPart):
    """One stock length on offer."""

    domain: ClassVar[type] = StockLine
    silent: ClassVar[frozenset[str]] = frozenset({"pack", "minimum", "on_hand"})

    family: str
    """Family of the bars."""
    finish: str = ""
    """Finish of the bars."""
    part: SawnPart = SawnPart.CHANNEL
    """Channel or cover."""
    length: Size
    """Nominal length of a bar."""
    price: MaybePrice = None
    """Price of one bar in the document's currency; null when unknown."""
    count: Count | None = None
    """Bars that can be had, those on hand included; null when unlimited."""
    pack: Annotated[StrictInt, Field(ge=1)] = 1
    """Bars sold together; only whole packs can be ordered."""
    minimum: Count = 0
    """Fewest bars that can be ordered when any are; 0 for no limit."""
    breaks: tuple[BreakPart, ...] = ()
    """Lower prices from a number of bars on."""
    on_hand: Count = 0
    """Bars already paid for."""
    hand_value: MaybePrice = None
    """What taking a bar on hand costs the job; null for nothing."""
    supplier: str = ""
    """Whom it is bought from; breaks on the total count one supplier's bars of a material."""
    lead_days: Count | None = None
    """Days from order to delivery; null when unknown."""
    where: WherePart | None = None
    """Where the line stood in the user's own list; this document when missing."""


class OffcutPart(RequestPart):
    """One tagged offcut on the rack."""

    domain: ClassVar[type] = Offcut

    tag: str = Field(min_length=1)
    """Unique, never used again."""
    family: str
    """Family of the bar it came from."""
    finish: str = ""
    """Finish."""
    part: SawnPart = SawnPart.CHANNEL
    """Channel or cover."""
    length: Size
    """Measured length."""
    left: EndState = EndState.CLEAN
    """Whether the left end is a clean saw face."""
    right: EndState = EndState.RAW
    """Whether the right end is a clean saw face."""
    lot: str = ""
    """Finish lot, when known."""
    place: str = ""
    """Place on the rack."""
    value: MaybePrice = None
    """What taking it costs the job, in the document's currency; null for nothing."""
    born: str = ""
    """Day it was cut, ISO 8601; of offcuts that serve equally well the oldest is taken."""
    where: WherePart | None = None
    """Where the line stood in the user's own list; this document when missing."""
