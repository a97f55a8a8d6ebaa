"""Bars and reports as they are sent and answered."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import BaseModel, Field, model_validator

from api.plans.bar_record import from_json
from api.plans.cutting import Outcome
from api.plans.states import BarState
from api.store.models import BarRow
from api.web.inputs import MOST, Body, LengthText, Nanometres, NoLonger, WithLength, Word
from api.web.lengths import LengthRead, Moment, length_read, moment, read_measure
from nesting.domain.material import Part
from nesting.domain.plan import TailFate
from nesting.errors import LengthNotUnderstood
from nesting.stockroom.cutting import CutReport
from nesting.units import Length, Unit

PieceId = Annotated[str, Field(min_length=1, max_length=400)]


class MiscutReport(WithLength):
    """A piece that came out wrong."""

    piece: PieceId
    length_nm: Nanometres | None = Field(
        default=None, description="What came out, along its shortest side; left out: nothing of it is of use."
    )


class BarReport(Body):
    """What the saw says of one bar."""

    outcome: Outcome = Field(
        description="cut; defect: the bar is set aside, whole or, with cuts made or a tail, what is not "
        "good of it; missing: it is not there."
    )
    made: int = Field(
        default=0,
        ge=0,
        le=10_000,
        strict=True,
        description="Cuts made before a bar with a defect was given up.",
    )
    tail_nm: Annotated[int, Field(ge=0, strict=True, json_schema_extra=MOST), NoLonger] | None = Field(
        default=None,
        description="Measured tail; left out: as planned. Of a bar with a defect what is good of its rest, "
        "sawn clear of the damage; left out: nothing.",
    )
    tail: LengthText | None = Field(default=None, description="The same as a text with its unit.")
    spoiled: list[PieceId] = Field(
        default=[], max_length=1_000, description="Pieces that were cut wrong and are scrap."
    )
    miscuts: list[MiscutReport] = Field(
        default=[],
        max_length=1_000,
        description="Pieces that were cut wrong, with what came out: it goes on the rack under a tag, or is "
        "scrap where it is too short to keep; a re-plan offers it to every open piece.",
    )
    place: Word = Field(default="", description="Where on the rack the tail was put.")
    note: Word = ""

    @model_validator(mode="after")
    def _fits_together(self) -> BarReport:
        if self.tail is not None and self.tail_nm is not None:
            raise ValueError("give tail or tail_nm, not both")
        cut = self.outcome is Outcome.CUT
        wrong = bool(self.spoiled or self.miscuts)
        left = self.tail is not None or self.tail_nm is not None
        if self.made and self.outcome is not Outcome.DEFECT:
            raise ValueError("cuts made are counted for a bar with a defect only")
        if not cut and wrong:
            raise ValueError("only a bar that was cut has spoiled pieces")
        if self.outcome is Outcome.MISSING and left:
            raise ValueError("a bar that is not there has no tail")
        named = [*self.spoiled, *(one.piece for one in self.miscuts)]
        if len(set(named)) < len(named):
            raise ValueError("a piece is reported as cut wrong twice")
        self.measured()
        return self

    def measured(self) -> Length | None:
        """Give the measured tail; None when it is as planned."""
        if self.tail is None:
            return None if self.tail_nm is None else Length(self.tail_nm)
        try:
            return read_measure(self.tail, None, may_be_zero=True)
        except LengthNotUnderstood as why:
            raise ValueError(why.expected) from why

    def to_domain(self) -> CutReport:
        """Give the report."""
        came_out = tuple((one.piece, one.given_length()) for one in self.miscuts)
        return CutReport(
            tail=self.measured(),
            spoiled=(*self.spoiled, *(one.piece for one in self.miscuts)),
            place=self.place,
            came_out=tuple((piece, length) for piece, length in came_out if length is not None),
            made=self.made if self.given_up else None,
        )

    def text(self) -> str:
        """Give the report as text; one without cuts made reads as before there was such a field."""
        return self.model_dump_json(exclude=self._silent)

    @property
    def _silent(self) -> set[str]:
        return set() if self.made else {"made"}

    @property
    def given_up(self) -> bool:
        """Whether the bar has a defect and something of it is good: pieces that are made, or its rest."""
        return self.outcome is Outcome.DEFECT and bool(self.made or self.measured())

    def words(self) -> dict[str, Any]:
        """Give the report as it is kept with the bar: all that was cut wrong is listed as spoiled."""
        said = self.model_dump(mode="json", exclude=self._silent)
        said["spoiled"] = [*self.spoiled, *(one.piece for one in self.miscuts)]
        return said


class CutRead(BaseModel):
    """One stroke that frees one piece."""

    order: int = Field(description="From 1, in the order of the saw.")
    piece: str
    job: str
    length: LengthRead = Field(description="Stop setting.")
    face: LengthRead = Field(description="The piece's far face from the first clean one.")
    held: bool = Field(description="False: too short to be held safely by hand.")


class BarRead(BaseModel):
    """One bar of a released plan: what to take, what to cut, what became of it."""

    number: int
    state: BarState
    family: str
    finish: str
    part: Part
    lot: str
    offcut: str | None = Field(description="Tag to take from the rack; null for a new bar.")
    length: LengthRead
    head_trim: LengthRead
    cuts: list[CutRead]
    tail: LengthRead = Field(description="What should be left.")
    fate: TailFate = Field(description="What should become of it.")
    tail_tag: str | None = Field(description="Tag to print for it.")
    born: str | None = Field(description="Tag it has got.")
    kept: dict[str, str] = Field(description="Tags of what came out of pieces cut wrong, by the piece.")
    short: list[str] = Field(
        description="Of these tags, what is too short to keep: scrap, unless a re-plan cuts a piece of it."
    )
    open_pieces: list[str] = Field(description="Pieces that must be made again.")
    reported_at: Moment | None
    reported_by: str | None

    @classmethod
    def of(cls, row: BarRow, unit: Unit) -> Self:
        """Give a bar as it is answered."""
        record = from_json(row.record)
        bar, material = record.bar, record.material
        cuts = [
            CutRead(
                order=order,
                piece=cut.piece,
                job=record.jobs[cut.piece],
                length=length_read(cut.stop, unit),
                face=length_read(cut.face, unit),
                held=cut.held,
            )
            for order, cut in enumerate(bar.cuts, 1)
        ]
        return cls(
            number=row.number,
            state=BarState(row.state),
            family=material.family,
            finish=material.finish,
            part=material.part,
            lot=material.lot,
            offcut=row.source or None,
            length=length_read(bar.length, unit),
            head_trim=length_read(bar.head, unit),
            cuts=cuts,
            tail=length_read(bar.tail, unit),
            fate=bar.fate,
            tail_tag=bar.tail_tag or None,
            born=row.born,
            kept=(row.report or {}).get("kept", {}),
            short=(row.report or {}).get("short", []),
            open_pieces=row.open_pieces,
            reported_at=None if row.reported_at is None else moment(row.reported_at),
            reported_by=row.reported_by,
        )
