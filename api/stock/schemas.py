"""Shelves as they are sent and answered."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import BaseModel, Field

from api.stock.service import Shelved
from api.web.inputs import Amount, Body, Name, Reason, WithNeededLength, Word
from api.web.lengths import LengthRead, Moment, length_read, moment, money_read
from nesting.domain.material import Part
from nesting.units import Unit

Bars = Annotated[int, Field(ge=1, le=1_000_000, strict=True, description="Whole bars.")]


class ShelfCreate(WithNeededLength):
    """A stock length that can be bought or is on hand."""

    family: Name
    finish: Word = ""
    part: Part = Part.CHANNEL
    price: Amount | None = None
    orderable: bool = Field(default=True, description="Whether more can be bought.")
    on_hand: int = Field(default=0, ge=0, le=1_000_000, strict=True, description="Bars that stand there.")


class ShelfCorrect(Body):
    """A new price, or whether more can be bought; what is left out stays."""

    price: Amount | None = None
    orderable: bool | None = None


class BarsMoved(Body):
    """So many bars, and why."""

    bars: Bars
    reason: Reason


class BarsCounted(Body):
    """All the bars somebody counted on the shelf, reserved ones included."""

    bars: int = Field(ge=0, le=1_000_000, strict=True)
    reason: Reason = "count"


class HoldRead(BaseModel):
    """Bars a plan has reserved."""

    plan: str
    bars: int


class ShelfRead(BaseModel):
    """The bars of one stock length."""

    id: str
    name: str = Field(description="Name in the ledger.")
    family: str
    finish: str
    part: Part
    length: LengthRead
    price: str | None = Field(description="Of one bar.")
    orderable: bool
    free: int = Field(description="Bars anybody may plan on.")
    reserved: int = Field(description="Bars plans have.")
    quarantined: int = Field(description="Bars set aside.")
    holds: list[HoldRead] = Field(description="Which plan has how many.")
    changed_at: Moment

    @classmethod
    def of(cls, shelved: Shelved, unit: Unit) -> Self:
        """Give a shelf as it is answered."""
        row, shelf = shelved.row, shelved.shelf
        return cls(
            id=row.id,
            name=shelf.key,
            family=shelf.family,
            finish=shelf.finish,
            part=shelf.part,
            length=length_read(shelf.length, unit),
            price=money_read(row.price),
            orderable=shelf.orderable,
            free=shelf.free,
            reserved=sum(bars for _, bars in shelf.reserved),
            quarantined=shelf.quarantined,
            holds=[HoldRead(plan=plan, bars=bars) for plan, bars in shelf.reserved],
            changed_at=moment(row.changed_at),
        )
