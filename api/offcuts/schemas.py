"""Offcuts as they are sent and answered."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import AfterValidator, Field

from api.catalogue.contents import offcut_of
from api.store.models import OffcutRow
from api.web.inputs import Amount, Body, Name, Reason, WithLength, WithNeededLength, Word
from api.web.lengths import LengthRead, Moment, length_read, moment, money_read
from nesting.domain.dates import day_of
from nesting.domain.material import Part
from nesting.domain.stock import EndState, Offcut
from nesting.errors import ProblemError
from nesting.money import read_money
from nesting.stockroom.states import State
from nesting.units import Unit

TAG_PATTERN = "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"
Tag = Annotated[str, Field(pattern=TAG_PATTERN, description="Unique, never used again.", examples=["FL-407"])]


def _day(text: str) -> str:
    try:
        return day_of(text).isoformat()
    except ProblemError as why:
        raise ValueError(str(why)) from why


Day = Annotated[
    str,
    Field(
        max_length=10,
        description="Day it was cut; today when left out. Of offcuts that serve equally well the oldest "
        "is taken.",
        examples=["2026-03-02"],
        json_schema_extra={"format": "date"},
    ),
    AfterValidator(_day),
]


class OffcutCreate(WithNeededLength):
    """A measured offcut that comes on the rack."""

    tag: Tag
    family: Name
    finish: Word = ""
    part: Part = Part.CHANNEL
    left: EndState = EndState.CLEAN
    right: EndState = EndState.RAW
    lot: Word = ""
    place: Word = ""
    value: Amount | None = None
    born: Day | None = None
    reason: Word = ""

    def to_domain(self) -> Offcut:
        """Give the offcut."""
        return Offcut(
            tag=self.tag,
            family=self.family,
            finish=self.finish,
            part=self.part,
            length=self.needed_length(),
            left=self.left,
            right=self.right,
            lot=self.lot,
            place=self.place,
            value=None if self.value is None else read_money(self.value),
            born=self.born or "",
        )


class OffcutCorrect(WithLength):
    """What is written wrong, and why it is put right; what is left out stays."""

    reason: Reason
    place: Word | None = None
    lot: Word | None = None
    left: EndState | None = None
    right: EndState | None = None
    value: Amount | None = None
    born: Day | None = None


class OffcutCount(WithNeededLength):
    """What the tape says when somebody stands before the rack."""

    reason: Reason = "count"


class OffcutFind(WithNeededLength):
    """The length of an offcut that has turned up again."""

    reason: Reason


class OffcutRead(Body):
    """An offcut and where it stands."""

    tag: str
    family: str
    finish: str
    part: Part
    length: LengthRead = Field(description="Measured.")
    left: EndState
    right: EndState
    lot: str
    place: str = Field(description="Where on the rack.")
    value: str | None = Field(description="What taking it costs a job.")
    state: State
    plan: str | None = Field(description="The plan that has it reserved or has cut it.")
    born_plan: str | None = Field(description="The plan whose tail it was.")
    born_bar: int | None = Field(description="The bar whose tail it was.")
    born_at: Moment = Field(description="When it was cut; midnight where only the day is known.")
    seen_at: Moment

    @classmethod
    def of(cls, row: OffcutRow, unit: Unit) -> Self:
        """Give a row as it is answered."""
        offcut = offcut_of(row)
        return cls(
            tag=row.tag,
            family=row.family,
            finish=row.finish,
            part=offcut.part,
            length=length_read(row.length, unit),
            left=offcut.left,
            right=offcut.right,
            lot=row.lot,
            place=row.place,
            value=money_read(row.value),
            state=State(row.state),
            plan=row.plan_id,
            born_plan=row.born_plan,
            born_bar=row.born_bar,
            born_at=moment(row.born_at),
            seen_at=moment(row.seen_at),
        )
