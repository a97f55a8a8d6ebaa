"""What is asked for as JSON objects: runs to be taken off, pieces already taken off."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, ClassVar

from pydantic import Field, StrictBool, StrictInt

from nesting.domain.electrics import Feed
from nesting.domain.material import Part as SawnPart
from nesting.domain.material import SplitRule
from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Place, Run
from nesting.domain.status import Status
from nesting.exchange.json_lengths import MaybeAllowance, Size
from nesting.exchange.json_numbers import Number
from nesting.exchange.request_findings import WherePart
from nesting.exchange.request_part import RequestPart

MOST_LIKE_PIECES = 100_000
Quantity = Annotated[StrictInt, Field(ge=1, le=MOST_LIKE_PIECES)]
Priority = Annotated[StrictInt, Field(ge=-1000, le=1000)]


class ColumnPart(RequestPart):
    """A column we do not know, carried along."""

    heading: str
    """Heading of the column."""
    text: str
    """What stood in it."""

    def to_domain(self) -> tuple[str, str]:
        """Give (heading, text)."""
        return (self.heading, self.text)

    @classmethod
    def items(cls, value: tuple[str, str]) -> Iterator[tuple[str, object]]:
        """Name the two."""
        yield from zip(("heading", "text"), value, strict=True)


class PlacePart(RequestPart):
    """Where in the building something goes."""

    domain: ClassVar[type] = Place

    building: str = ""
    """Building."""
    floor: str = ""
    """Floor."""
    unit: str = ""
    """Flat, shop or other unit."""
    room: str = ""
    """Room."""
    spot: str = ""
    """Place in the room."""


class MitrePart(RequestPart):
    """The corner at a mitred end."""

    domain: ClassVar[type] = Mitre

    angle: Number
    """Mitre angle from square, degrees: 45 for a right-angled corner."""
    outside: StrictBool = False
    """Whether it is an outside corner."""
    plane: MitrePlane = MitrePlane.FLAT
    """flat: in the plane of the lit face; standing: up or down a wall."""


class RunPart(RequestPart):
    """One line of the run list: like fixtures, seen facing the lit face."""

    domain: ClassVar[type] = Run
    silent: ClassVar[frozenset[str]] = frozenset({"status", "priority"})

    job: str
    """Job it belongs to."""
    id: str = Field(min_length=1)
    """Unique in its job."""
    family: str
    """Name of a family of the catalogue."""
    finish: str = ""
    """Finish as the stock spells it."""
    quantity: Quantity = 1
    """How many like fixtures, pieces."""
    length: Size
    """Measured size, such as '1806 mm' or '36 1/4 in'; a bare number counts in the document's unit."""
    kind: LengthKind = LengthKind.FINISHED
    """What the length measures."""
    left: EndCondition = EndCondition.SOLID_CAP
    """What is at the left end."""
    right: EndCondition = EndCondition.SOLID_CAP
    """What is at the right end."""
    clearance_left: MaybeAllowance = None
    """Clearance at the left end of an opening; the family's when missing."""
    clearance_right: MaybeAllowance = None
    """Clearance at the right end of an opening; the family's when missing."""
    split_rule: SplitRule | None = None
    """How a run longer than a bar is divided; the family's rule when missing."""
    lot: str = ""
    """Named finish lot, when the run is bound to one."""
    feed: Feed | None = None
    """Where the leads enter; null when the list does not say."""
    feed_at: MaybeAllowance = None
    """Of a back exit: its distance from the left end."""
    mitre_left: MitrePart | None = None
    """The corner at a mitred left end."""
    mitre_right: MitrePart | None = None
    """The corner at a mitred right end."""
    partner_left: str = ""
    """Id of the run the left corner goes on to, in the same job."""
    partner_right: str = ""
    """Id of the run the right corner goes on to, in the same job."""
    place: PlacePart = PlacePart()
    """Where it goes."""
    status: Status = Status.MEASURED
    """How sure the size is: measured, from a drawing, to be verified, or on hold."""
    priority: Priority = 0
    """The larger, the more urgent: cut first, and the last to go short."""
    due: str = ""
    """Day by which it is wanted, ISO 8601, such as 2027-03-31; of one priority the earlier is first."""
    note: str = ""
    """Free text."""
    where: WherePart | None = None
    """Where the line stood in the user's own list; this document when missing."""
    extra: tuple[ColumnPart, ...] = ()
    """Columns we do not know, kept for the way back."""


class PieceLinePart(RequestPart):
    """One line of a piece list: like pieces of one cut length, taken off by the user."""

    domain: ClassVar[type] = PieceLine
    silent: ClassVar[frozenset[str]] = frozenset({"status", "priority"})

    job: str
    """Job it belongs to."""
    id: str = Field(min_length=1)
    """Unique in its job."""
    family: str
    """Family of the bars."""
    finish: str = ""
    """Finish as the stock spells it."""
    part: SawnPart = SawnPart.CHANNEL
    """Channel or cover."""
    quantity: Quantity = 1
    """How many like pieces."""
    length: Size
    """Cut length, such as '915 mm'; a bare number counts in the document's unit."""
    lot: str = ""
    """Named finish lot, when the pieces are bound to one."""
    place: PlacePart = PlacePart()
    """Where they go."""
    status: Status = Status.MEASURED
    """How sure the size is: measured, from a drawing, to be verified, or on hold."""
    priority: Priority = 0
    """The larger, the more urgent: cut first, and the last to go short."""
    due: str = ""
    """Day by which it is wanted, ISO 8601, such as 2027-03-31; of one priority the earlier is first."""
    note: str = ""
    """Free text."""
    where: WherePart | None = None
    """Where the line stood in the user's own list; this document when missing."""
    extra: tuple[ColumnPart, ...] = ()
    """Columns we do not know, kept for the way back."""
