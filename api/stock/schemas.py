"""Shelves as they are sent and answered."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Self

from pydantic import BaseModel, Field, model_validator

from api.stock.service import Shelved
from api.stock.terms import breaks_as_json, breaks_of, stock_line
from api.store.models import ShelfRow
from api.web.inputs import Amount, Body, Name, Reason, Share, WithNeededLength, Word
from api.web.lengths import LengthRead, Moment, length_read, moment, money_read
from api.web.problems import Problem
from nesting.domain.buying import BreakScope, PriceBreak
from nesting.domain.material import Part
from nesting.errors import ProblemError
from nesting.money import percent_text, read_money, read_share
from nesting.units import Unit

Bars = Annotated[int, Field(ge=1, le=1_000_000, strict=True, description="Whole bars.")]


class BreakBody(Body):
    """A lower price of every bar once enough are ordered: a price, or a share off the list price."""

    bars: Bars
    price: Amount | None = None
    off: Share | None = None
    scope: BreakScope = Field(
        default=BreakScope.LINE,
        description="line: bars of this length count; total: all bars of the material from the supplier.",
    )

    @model_validator(mode="after")
    def _one_of_two(self) -> BreakBody:
        self.to_domain()
        return self

    def to_domain(self) -> PriceBreak:
        """Give the break."""
        try:
            return PriceBreak(
                bars=self.bars,
                price=None if self.price is None else read_money(self.price),
                off=None if self.off is None else read_share(self.off),
                scope=self.scope,
            )
        except ProblemError as why:
            raise ValueError(str(why)) from why

    @classmethod
    def of(cls, one: PriceBreak) -> Self:
        """Give a break as it is answered."""
        off = None if one.off is None else percent_text(one.off)
        return cls(bars=one.bars, price=money_read(one.price), off=off, scope=one.scope)


Breaks = Annotated[list[BreakBody], Field(max_length=50)]
Count = Annotated[int, Field(ge=0, le=1_000_000, strict=True)]


class Terms(Body):
    """How bars are sold; what is left out stays as it is, and null takes it away."""

    price: Amount | None = Field(default=None, description="List price of one bar.")
    currency: Annotated[str, Field(pattern="^([A-Z]{3})?$")] = Field(
        default="", description="ISO 4217 code; left out: the shop's."
    )
    orderable: bool = Field(default=True, description="Whether more can be bought.")
    supply: Count | None = Field(
        default=None, description="Bars that can be bought; null: as many as needed."
    )
    pack: Bars = Field(default=1, description="Bars sold together; only whole packs can be ordered.")
    minimum: Count = Field(default=0, description="Fewest bars that can be ordered when any are.")
    breaks: Breaks = Field(default=[], description="Lower prices from a number of bars on.")
    hand_value: Amount | None = Field(
        default=None, description="What taking a bar on hand costs the job; null: nothing, it is paid for."
    )
    supplier: Word = ""
    lead_days: Annotated[int, Field(ge=0, le=10_000, strict=True)] | None = Field(
        default=None, description="Days from order to delivery."
    )

    def put_into(self, row: ShelfRow, given: Collection[str]) -> None:
        """Write the terms that were given into a shelf's row."""
        for name in ("price", "hand_value"):
            if name in given:
                said = getattr(self, name)
                setattr(row, name, None if said is None else read_money(said))
        if "breaks" in given:
            row.breaks = breaks_as_json([one.to_domain() for one in self.breaks])
        for name in ("orderable", "supply", "pack", "minimum", "supplier", "lead_days", "currency"):
            if name in given:
                setattr(row, name, getattr(self, name))
        try:
            stock_line(row)
        except ProblemError as why:
            raise Problem(422, "cannot-be", str(why)) from why


class ShelfCreate(WithNeededLength, Terms):
    """A stock length that can be bought or is on hand."""

    family: Name
    finish: Word = ""
    part: Part = Part.CHANNEL
    on_hand: int = Field(default=0, ge=0, le=1_000_000, strict=True, description="Bars that stand there.")


class ShelfCorrect(Terms):
    """New terms; what is left out stays."""


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
    currency: str = Field(description="ISO 4217 code of the prices; empty while none was named.")
    orderable: bool
    supply: int | None = Field(description="Bars that can be bought; null: as many as needed.")
    pack: int = Field(description="Bars sold together.")
    minimum: int = Field(description="Fewest bars that can be ordered when any are.")
    breaks: list[BreakBody] = Field(description="Lower prices from a number of bars on.")
    hand_value: str | None = Field(description="What taking a bar on hand costs the job; null: nothing.")
    supplier: str
    lead_days: int | None = Field(description="Days from order to delivery.")
    free: int = Field(description="Bars anybody may plan on: paid for, and used before any are bought.")
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
            currency=row.currency,
            orderable=shelf.orderable,
            supply=row.supply,
            pack=row.pack,
            minimum=row.minimum,
            breaks=[BreakBody.of(one) for one in breaks_of(row.breaks)],
            hand_value=money_read(row.hand_value),
            supplier=row.supplier,
            lead_days=row.lead_days,
            free=shelf.free,
            reserved=sum(bars for _, bars in shelf.reserved),
            quarantined=shelf.quarantined,
            holds=[HoldRead(plan=plan, bars=bars) for plan, bars in shelf.reserved],
            changed_at=moment(row.changed_at),
        )
