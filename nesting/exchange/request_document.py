"""The request as a JSON document, version 1."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field, StrictBool, StrictInt

from nesting.domain.electrics import Feed
from nesting.domain.goals import MOST_IN_A_GANG, Goals, Slivers
from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, SplitRule
from nesting.domain.material import Part as SawnPart
from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW, SawRules
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Place, Run
from nesting.domain.status import Purpose, Status
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.errors import Finding, Severity, Where
from nesting.exchange.buying_document import BreakPart, BuyingPart
from nesting.exchange.json_text import pointer
from nesting.exchange.kinds import (
    Allowance,
    Count,
    MaybeAllowance,
    MaybeNumber,
    MaybePitch,
    MaybePrice,
    Number,
    Size,
)
from nesting.exchange.request_part import RequestPart
from nesting.units import NO_LENGTH, Unit

REQUEST = "request"
# Tables whose lines remember where they stood in the user's own list.
PLACED = ("stock", "offcuts", "runs", "piece_lines")
MOST_LIKE_PIECES = 100_000
Quantity = Annotated[StrictInt, Field(ge=1, le=MOST_LIKE_PIECES)]
Priority = Annotated[StrictInt, Field(ge=-1000, le=1000)]


class WherePart(RequestPart):
    """Where a line stood in the user's own list."""

    domain: ClassVar[type] = Where

    source: str
    """Sheet or file name."""
    at: str = ""
    """Cell, such as C17, or JSON pointer."""


class FindingPart(RequestPart):
    """One thing the reader noticed."""

    domain: ClassVar[type] = Finding

    severity: Severity
    """Whether it refuses the input: error and ask do."""
    code: str
    """Stable name for programs."""
    where: WherePart
    """Place in the user's own list."""
    found: str = ""
    """The raw text met there."""
    message: str
    """What it means."""

    def values(self) -> dict[str, Any]:
        """Keep an empty text where nothing was found."""
        return {**super().values(), "found": self.found}


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


class SawPart(RequestPart):
    """Allowances of a saw with its blade; what is missing is taken from common practice, with a warning."""

    domain: ClassVar[type] = SawRules

    kerf: MaybeAllowance = None
    """Width the blade takes at each stroke; 3 mm when missing."""
    head_trim: MaybeAllowance = None
    """Raw end to first clean face, its kerf included; 8 mm when missing."""
    tail_loss: MaybeAllowance = None
    """Last good face to the raw far end, last kerf included; 8 mm when missing."""
    keep_length: MaybeAllowance = None
    """A tail at least this long is an offcut, a shorter one scrap; 400 mm when missing."""
    grip: MaybeAllowance = None
    """Shortest length that can be held safely; 150 mm when missing."""
    step: MaybeAllowance = None
    """Setting step of the saw; 0 or missing when it cuts any length."""

    def missing(self) -> list[str]:
        """Give the names of the values that a default stands in for; a saw without step has none."""
        return [n for n in type(self).model_fields if n != "step" and getattr(self, n) is None]

    def to_domain(self) -> SawRules:
        """Give the saw, with common practice for what is missing."""
        given = {n: getattr(self, n) for n in type(self).model_fields}
        return replace(DEFAULT_SAW, **{n: value for n, value in given.items() if value is not None})


class FamilyPart(RequestPart):
    """One channel family, with what the take-off needs."""

    domain: ClassVar[type] = Family

    name: str = Field(min_length=1)
    """Unique in the catalogue."""
    cap_style: CapStyle = CapStyle.FLUSH
    """nose: thickness outside and a nose inside; flush: thickness only; inner: nose only."""
    cap_thickness: Allowance = NO_LENGTH
    """Cap thickness outside the channel end."""
    nose: Allowance = NO_LENGTH
    """Length of the cap's nose inside the channel."""
    cover_mode: CoverMode = CoverMode.NONE
    """flush or offset: cut in one stroke with the channel; separate: cut on its own; none."""
    cover_play: Allowance = NO_LENGTH
    """Length taken off each cover for fit and heat."""
    clearance: Allowance = NO_LENGTH
    """Default clearance at each end of a run measured as an opening."""
    lot_rule: LotRule = LotRule.ANY
    """Which pieces of the family must come from one finish lot."""
    split_rule: SplitRule = SplitRule.EQUAL
    """How a run longer than a bar is divided."""
    joint_gap: Allowance = NO_LENGTH
    """Gap at each joint."""
    shortest_section: Allowance = NO_LENGTH
    """Shortest section wanted when a run is divided."""
    strip_pitch: MaybePitch = None
    """Distance between cut marks of the strip, also as '5000 mm per 300 marks'; null when no strip."""
    strip_feed: Allowance = NO_LENGTH
    """Clearance for the leads."""
    strip_tail: Allowance = NO_LENGTH
    """Clearance at the far end of the strip."""
    strip_name: str = ""
    """Article of the strip; families that name the same share its reels."""
    strip_width: Allowance = NO_LENGTH
    """Width of the strip; 0 when unknown: it then stops at the short point of a mitred channel."""
    strip_watts: MaybeNumber = None
    """Load of the strip, watts per metre."""
    strip_volts: MaybeNumber = None
    """Supply voltage of the strip."""
    strip_longest: MaybeAllowance = None
    """Longest circuit fed from one end; null when the data sheet says nothing."""
    strip_longest_both: MaybeAllowance = None
    """Longest circuit fed from both ends; null when the data sheet says nothing."""
    strip_reel: MaybeAllowance = None
    """Length of a full reel; without it no reels are planned."""
    strip_solder: MaybeAllowance = None
    """Distance of the factory's solder joints on the reel; null when there are none."""
    strip_reach: Allowance = NO_LENGTH
    """What a solderless connector covers at a strip end; 0 for soldered leads."""
    wire: str = ""
    """Feed wire, such as '0.75 mm2' or '18 AWG'; its drop is worked out as advice."""
    wire_length: Allowance = NO_LENGTH
    """Length of the feed wire one way."""
    width: Allowance = NO_LENGTH
    """Width of the section; flat mitres need it."""
    height: Allowance = NO_LENGTH
    """Height of the section; standing mitres need it."""
    symmetric: StrictBool = True
    """Whether the section is left-right symmetric, so that a mitred piece may be turned end for end."""
    handed_caps: StrictBool = False
    """Whether the left cap does not fit the right end."""
    clip_edge: Allowance = NO_LENGTH
    """First and last clip's distance from the channel's ends."""
    clip_spacing: Allowance = NO_LENGTH
    """Largest distance between clips; 0 counts no clips."""
    clip_single_below: Allowance = NO_LENGTH
    """A channel shorter than this takes one clip."""
    adhesive_rows: Count = 0
    """Rows of tape or beads of adhesive under the channel."""
    cover_stagger: Allowance = NO_LENGTH
    """Least distance of a separate cover's joints from the channel's; 0 puts them together."""
    cover_coil: StrictBool = False
    """Whether the cover comes from a coil, so that it has no joint."""
    weight: MaybeNumber = None
    """Kilograms a metre of channel, with its cover where that is cut together."""
    channel_expansion: MaybeNumber = None
    """Growth of the channel per kelvin, such as '23.4e-6'."""
    cover_expansion: MaybeNumber = None
    """Growth of the cover per kelvin, such as '65e-6'; take it from its data sheet."""
    heat_above: MaybeNumber = None
    """Kelvin that it will get warmer than when it was cut."""
    heat_below: MaybeNumber = None
    """Kelvin that it will get colder than when it was cut."""


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


class GoalsPart(RequestPart):
    """What the plan should be good at beside its cost; only the ban on slivers may raise it."""

    domain: ClassVar[type] = Goals
    silent: ClassVar[frozenset[str]] = frozenset(
        {"fewer_patterns", "gang", "open_units", "long_tail", "slivers"}
    )

    fewer_patterns: StrictBool = False
    """Whether to look for fewer different patterns, and fewer moves of the stop, on the same bars."""
    gang: Annotated[StrictInt, Field(ge=1, le=MOST_IN_A_GANG)] = 1
    """Bars of one pattern clamped side by side and cut with one stroke."""
    open_units: StrictBool = False
    """Whether to order the bars so that few units are half finished at once."""
    long_tail: StrictBool = False
    """Whether to collect what is left over in one tail as long as can be."""
    slivers: Slivers = Slivers.WARN
    """warn or forbid: last strokes with less than a kerf of metal in them."""


class RequestDocument(RequestPart):
    """Everything one planning asks for: runs or pieces, catalogue, stock, rack and saw."""

    domain: ClassVar[type] = Request
    silent: ClassVar[frozenset[str]] = frozenset({"buying", "purpose", "goals"})
    apart: ClassVar[frozenset[str]] = frozenset({"version", "unit"})

    version: Literal[1] = Field(alias="schema")
    """Version of this document, 1."""
    title: str = ""
    """Name of the building or the order."""
    unit: Unit | None = None
    """Unit of lengths that are bare numbers; without it a bare number is refused."""
    currency: str = ""
    """Code of the prices' currency by ISO 4217; empty when there are no prices."""
    saw: SawPart = SawPart()
    """The channel saw."""
    cover_saw: SawPart | None = None
    """The saw for separately cut covers; the channel saw when missing."""
    buying: BuyingPart = BuyingPart()
    """What holds for the whole order: reserve, what offcuts count for, the date."""
    purpose: Purpose = Purpose.ORDER
    """order: sizes from drawings are planned too; cut: measured sizes only."""
    goals: GoalsPart = GoalsPart()
    """What the plan should be good at beside its cost."""
    families: tuple[FamilyPart, ...] = ()
    """The catalogue."""
    stock: tuple[StockPart, ...] = ()
    """Stock lengths on offer."""
    offcuts: tuple[OffcutPart, ...] = ()
    """Offcuts on the rack."""
    runs: tuple[RunPart, ...] = ()
    """What to make: runs to be taken off."""
    piece_lines: tuple[PieceLinePart, ...] = ()
    """What to saw: pieces already taken off."""
    findings: tuple[FindingPart, ...] = ()
    """What an earlier reader noticed and did not refuse."""

    @classmethod
    def items(cls, value: Any) -> Iterator[tuple[str, object]]:
        """Begin with the version; places that are this document's own go without saying."""
        yield "schema", 1
        for key, held in super().items(value):
            if key in PLACED and isinstance(held, list):
                held = [_placed(row, pointer(key, position)) for position, row in enumerate(held)]
            yield key, held


def _placed(row: dict[str, object], own: str) -> dict[str, object]:
    """Leave out a line's place when it is this document's; say it when nobody knows it."""
    where = row.pop("where", {"source": REQUEST})
    return row if where == {"source": REQUEST, "at": own} else {**row, "where": where}
