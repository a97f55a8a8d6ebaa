"""What a plan buys as JSON objects: order lines, the next-best purchase, each job's share."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from pydantic import StrictBool, StrictInt

from nesting.domain.plan import Alternative, JobShare, OrderLine
from nesting.exchange.json_numbers import MaybePrice, Price
from nesting.exchange.plan_part import PlanPart
from nesting.units import Length, mm_text


class OrderPart(PlanPart):
    """New bars to order of one stock length."""

    domain: ClassVar[type] = OrderLine

    family: str
    """Family."""
    finish: str
    """Finish."""
    part: str
    """Channel or cover."""
    lot: str
    """Lot they have to be of; empty when any will do."""
    length_nm: StrictInt
    """Length of a bar, nanometres."""
    bars: StrictInt
    """How many."""
    price: MaybePrice = None
    """Price of one bar; null when unknown."""
    sum: MaybePrice = None
    """Price of all; null when unknown."""
    note: str = ""
    """Remark for the purchaser."""
    stock: StrictInt | None = None
    """Position (from 0) of the stock line in the request; missing in older plans."""
    on_hand: StrictInt = 0
    """Bars taken from those already paid for; the plan cuts them besides those ordered."""
    reserve: StrictInt = 0
    """Bars ordered beyond the need, as a reserve."""
    spare: StrictInt = 0
    """Bars that fill a pack, or reach a break or a minimum; they go to stock."""
    listed: MaybePrice = None
    """List price of a bar; missing when it is the price paid."""
    ordered: StrictInt = 0
    """Bars of the line that the plans before this one have ordered; 0 in a first plan."""
    reserve_used: StrictInt = 0
    """Bars that were ordered as a reserve and that this plan cuts."""


class OrderedPart(PlanPart):
    """Bars of one length."""

    length_nm: StrictInt
    """Length of a bar, nanometres."""
    bars: StrictInt
    """How many."""

    @classmethod
    def items(cls, value: tuple[Length, int]) -> Iterator[tuple[str, object]]:
        """Write a pair as an object."""
        yield "length_nm", int(value[0])
        yield "length_mm", mm_text(value[0])
        yield "bars", value[1]

    def to_domain(self) -> tuple[Length, int]:
        """Give (length, bars)."""
        return (Length(self.length_nm), self.bars)


class AlternativePart(PlanPart):
    """The next-best purchase: the cheapest that orders fewer bars of some length than the plan does."""

    domain: ClassVar[type] = Alternative

    bars: tuple[OrderedPart, ...]
    """Bars to order, length by length."""
    cost: StrictInt
    """What it costs, in ten-thousandths of the currency, or in bars when not priced."""
    proved: StrictBool
    """Whether no other such purchase costs less; any further one is the plan's with bars added."""


class JobPart(PlanPart):
    """What one job takes from the plan."""

    domain: ClassVar[type] = JobShare

    job: str
    """Job."""
    pieces: StrictInt
    """Its pieces."""
    good_nm: StrictInt
    """Their total length, nanometres."""
    consumed_nm: StrictInt
    """Its share of the metal used up, nanometres."""
    cost: Price
    """Its share of the money."""
