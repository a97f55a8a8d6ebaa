"""The plan as a JSON document, version 1."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, StrictBool, StrictInt, model_validator

from nesting.domain.goals import GoalPrice
from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.material import Material
from nesting.domain.material import Part as SawnPart
from nesting.domain.mitre import SQUARE, MitrePlane, MitreSection
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.plan import (
    Alternative,
    Cut,
    GroupPlan,
    JobShare,
    Margins,
    OrderLine,
    Plan,
    PlannedBar,
    SpareCut,
    TailFate,
    Totals,
    Unplaced,
)
from nesting.domain.progress import StopReason
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition
from nesting.exchange.certificate_document import CertificatePart
from nesting.exchange.kinds import MaybePrice, Number, Price, real
from nesting.exchange.part import refusal
from nesting.exchange.plan_part import PlanPart
from nesting.exchange.reels_document import ReelPlanPart
from nesting.exchange.request_document import FindingPart, PlacePart, RequestDocument, WherePart
from nesting.exchange.small_parts_document import SmallPartsPart
from nesting.money import money_text, read_money
from nesting.reports.answer import proof_words, share_text
from nesting.units import Length, mm_text

_COUNT = r"^[0-9]{1,15}(\.[0-9]{1,4})?$"


class MaterialPart(PlanPart):
    """What must not be mixed in one group."""

    domain: ClassVar[type] = Material

    family: str
    """Family."""
    finish: str
    """Finish."""
    part: SawnPart
    """Channel or cover."""
    lot: str = ""
    """Lot, or the job, that binds the pieces together; empty when any finish lot will do."""


class SawRulesPart(PlanPart):
    """Allowances of the saw the group is cut on."""

    domain: ClassVar[type] = SawRules

    kerf_nm: StrictInt
    """Width the blade takes at each stroke, nanometres."""
    head_trim_nm: StrictInt
    """Raw end to first clean face, its kerf included, nanometres."""
    tail_loss_nm: StrictInt
    """Last good face to the raw far end, last kerf included, nanometres."""
    keep_length_nm: StrictInt
    """A tail at least this long is an offcut, a shorter one scrap, nanometres."""
    grip_nm: StrictInt
    """Shortest length that can be held safely, nanometres."""
    step_nm: StrictInt
    """Setting step of the saw, nanometres; 0 when it cuts any length."""


class MitreSectionPart(PlanPart):
    """What of a channel's section matters at a mitre."""

    domain: ClassVar[type] = MitreSection

    width_nm: StrictInt
    """Extent of the section in the plane of the mitres, nanometres."""
    symmetric: StrictBool
    """Whether a piece may be turned end for end."""
    plane: MitrePlane
    """Flat, or standing."""


class CutPart(PlanPart):
    """One stroke that frees one piece."""

    domain: ClassVar[type] = Cut

    piece: str
    """Id of the piece."""
    length_nm: StrictInt
    """Stop setting, nanometres."""
    face_nm: StrictInt
    """The piece's far face, from the first clean face of the bar, nanometres."""
    held: StrictBool
    """Whether the rest of the bar, or the piece, is long enough to hold."""
    long_point_nm: StrictInt | None = None
    """Stop setting of a mitred piece, nanometres; its length is then its centre line. Null when square."""
    slope_start: Number = SQUARE
    """Slope of its near face as it lies, degrees; positive leans like `/`, 0 is square."""
    slope_end: Number = SQUARE
    """Slope of its far face as it lies, degrees."""
    turned: StrictBool = False
    """Whether it lies turned end for end."""


class SpanPart(PlanPart):
    """A damaged stretch of a bar."""

    domain: ClassVar[type] = Span

    start_nm: StrictInt
    """Where it begins, from the end that leads at the saw, nanometres."""
    end_nm: StrictInt
    """Where it ends, nanometres."""


class SpoiledPart(PlanPart):
    """A piece of a cut bar that came out wrong and is asked for again."""

    domain: ClassVar[type] = Spoiled

    piece: str
    """Id of the piece."""
    length_nm: StrictInt | None = None
    """What came out, nanometres; null when nothing of it can be used."""
    tag: str = ""
    """Its tag as an offcut; empty when it is scrap."""


class ZonePart(PlanPart):
    """A clear stretch of a stopped bar."""

    domain: ClassVar[type] = Zone

    start_nm: StrictInt
    """Where it begins, from the end that leads at the saw, nanometres."""
    length_nm: StrictInt
    """Its length, nanometres."""
    tag: str = ""
    """Its tag as an offcut; empty when it is scrap."""


class BarPart(PlanPart):
    """One bar with its cuts in saw order."""

    domain: ClassVar[type] = PlannedBar

    number: StrictInt
    """Number of the bar in the plan, from 1."""
    source: str
    """`stock:` and the position (from 0) of the request's stock line, or the offcut's tag."""
    offcut: StrictBool
    """Whether it comes from the rack."""
    length_nm: StrictInt
    """Length of the bar, nanometres."""
    head_nm: StrictInt
    """Head trim, its kerf included, nanometres."""
    tail_loss_nm: StrictInt
    """What must stay behind the last good face, nanometres."""
    cuts: tuple[CutPart, ...]
    """Cuts in saw order."""
    strokes: StrictInt
    """Saw strokes, the head trim's included."""
    kerf_loss_nm: StrictInt
    """Metal turned into chips by the strokes after the head trim, nanometres."""
    tail_nm: StrictInt
    """What is left, nanometres."""
    fate: TailFate
    """What becomes of the tail."""
    tail_tag: str = ""
    """Tag of the offcut that is born; empty when none is."""
    sliver: StrictBool
    """Whether the last stroke has less than a kerf of metal to cut in."""
    state: BarState = BarState.OPEN
    """How far the shop is with it; left out while it is open."""
    true_tail_nm: StrictInt | None = None
    """Tail as measured, or as it follows from what came out wrong, nanometres; null when as planned."""
    spoiled: tuple[SpoiledPart, ...] = ()
    """Pieces that came out wrong and are asked for again."""
    defects: tuple[SpanPart, ...] = ()
    """Damaged stretches of a stopped bar."""
    zones: tuple[ZonePart, ...] = ()
    """What is clear of a stopped bar behind its last cut."""

    @classmethod
    def items(cls, value: PlannedBar) -> Iterator[tuple[str, object]]:
        """Say nothing of a bar that is simply open."""
        for key, held in super().items(value):
            if key != "state" or held != BarState.OPEN:
                yield key, held


class TotalsPart(PlanPart):
    """Where the metal goes; used = good + kerf + trim + returned + scrap, exactly."""

    domain: ClassVar[type] = Totals
    told: ClassVar[Mapping[str, str]] = {
        "yield": "good / (used - returned), per cent.",
        "waste": "(kerf + trim + scrap) / used, per cent.",
    }

    bars: StrictInt
    """Bars opened, offcuts included."""
    used_nm: StrictInt
    """Sum of the opened bars' lengths, nanometres."""
    good_nm: StrictInt
    """Sum of the pieces' lengths, nanometres."""
    kerf_nm: StrictInt
    """Chips of the strokes after the head trims, nanometres."""
    trim_nm: StrictInt
    """Head trims, nanometres."""
    returned_nm: StrictInt
    """Tails kept as offcuts, nanometres."""
    scrap_nm: StrictInt
    """Tails thrown away, nanometres."""

    @classmethod
    def items(cls, value: Any) -> Iterator[tuple[str, object]]:
        """End with yield and waste."""
        yield from super().items(value)
        yield "yield", share_text(value.yield_share)
        yield "waste", share_text(value.waste_share)


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
    """The best of the simpler purchases: one length alone, or without one of the lengths bought."""

    domain: ClassVar[type] = Alternative

    bars: tuple[OrderedPart, ...]
    """Bars to order, length by length."""
    cost: StrictInt
    """What it costs, in ten-thousandths of the currency, or in bars when not priced."""
    proved: StrictBool
    """Whether no plan with these lengths costs less."""


class MarginsPart(PlanPart):
    """How far reality may be off before the plan fails."""

    domain: ClassVar[type] = Margins

    kerf_nm: StrictInt | None = None
    """Largest kerf at which every bar still holds its cuts, nanometres; null when no bar has two."""
    bar_nm: StrictInt | None = None
    """How much shorter every new bar may be, nanometres; null when there is none."""
    growth_nm: StrictInt | None = None
    """How much every run may grow without costing more, nanometres; null when not looked for."""
    growth_cost: StrictInt | None = None
    """What the next step of growth would cost, in the unit of the alternative's cost."""


class SpareCutPart(PlanPart):
    """A spare piece that a tail would give at no extra bar."""

    domain: ClassVar[type] = SpareCut

    bar: StrictInt
    """Number of the bar."""
    length_nm: StrictInt
    """Length of the spare piece, nanometres."""


class GoalPart(PlanPart):
    """A second goal before and after it was pursued, beside the cost of the bars."""

    domain: ClassVar[type] = GoalPrice
    told: ClassVar[Mapping[str, str]] = {
        "goal_price": "What the bars cost more for it, in the unit of the costs."
    }

    goal: str
    """What is counted: patterns, most open units, strokes, stop changes, slivers, bars until the urgent are
    cut."""
    cost_before: StrictInt
    """Cost without it, in ten-thousandths of the currency, or in bars when not priced."""
    cost_after: StrictInt
    """Cost with it, in the same unit."""
    value_before: StrictInt
    """The count without it."""
    value_after: StrictInt
    """The count with it."""
    lower_bound: StrictInt | None = None
    """No plan of this kind counts less; null when nothing is known."""

    @classmethod
    def items(cls, value: GoalPrice) -> Iterator[tuple[str, object]]:
        """End with the price."""
        yield from super().items(value)
        yield "goal_price", str(value.price)


class GroupPart(PlanPart):
    """The bars of one material."""

    domain: ClassVar[type] = GroupPlan
    told: ClassVar[Mapping[str, str]] = {
        "gap": "(cost - bound) / cost, per cent.",
        "proof": "How good the plan provably is.",
    }

    material: MaterialPart
    """What is cut here."""
    saw: SawRulesPart
    """The saw it is cut on."""
    cover_follows: StrictBool
    """Whether each bar is cut together with a cover bar of the same length."""
    mitre: MitreSectionPart | None = None
    """Section at the mitres, when pieces are mitred; metal is then counted along the centre line."""
    priced: StrictBool
    """Whether cost and bound are money; else they count bars bought."""
    cost: str = Field(pattern=_COUNT)
    """Cost of the plan: money when priced, else a number of bars."""
    bound: str = Field(pattern=_COUNT)
    """What no plan can go below, same unit as the cost."""
    ended: StopReason
    """Why the search ended."""
    seconds: Annotated[float, BeforeValidator(real)] = Field(allow_inf_nan=False)
    """How long the search took, seconds."""
    totals: TotalsPart
    """Where the metal goes."""
    certificate: CertificatePart | None = None
    """What the bound rests on."""
    alternative: AlternativePart | None = None
    """The next-best purchase; missing in plans that do not say."""
    margins: MarginsPart | None = None
    """Margins of the bars; missing in plans that do not say."""
    spares: tuple[SpareCutPart, ...] = ()
    """Spare pieces that the tails would give, when they were asked for."""
    goals: tuple[GoalPart, ...] = ()
    """Every second goal that was asked for, with its price."""
    open_units: StrictInt | None = None
    """Most units half finished at once while these bars are cut in their order."""
    bars: tuple[BarPart, ...]
    """Bars in the order they are cut."""

    @model_validator(mode="after")
    def _whole_bars(self) -> GroupPart:
        for key in ("cost", "bound"):
            if not self.priced and not getattr(self, key).isdigit():
                raise refusal("not-a-whole-number", "Bars are counted in whole numbers.", under=key)
        return self

    def values(self) -> dict[str, Any]:
        """Give cost and bound in whole numbers."""
        whole = {key: self._whole(getattr(self, key)) for key in ("cost", "bound")}
        return {**super().values(), **whole}

    def _whole(self, said: str) -> int:
        return int(read_money(said)) if self.priced else int(said)

    @classmethod
    def items(cls, value: GroupPlan) -> Iterator[tuple[str, object]]:
        """Say cost and bound as people do, and how good they are."""
        for key, held in super().items(value):
            if key in ("cost", "bound") and isinstance(held, int):
                yield key, money_text(held) if value.priced else str(held)
            else:
                yield key, held
            if key == "bound":
                yield "gap", share_text(value.gap)
                yield "proof", proof_words(value, "")


class PiecePart(PlanPart):
    """One piece to be sawn."""

    domain: ClassVar[type] = Piece

    id: str
    """Unique in the plan."""
    job: str
    """Job."""
    run: str
    """Run, or line of the piece list, in the job."""
    copy_: StrictInt = Field(alias="copy")
    """Which of the run's like fixtures, from 1."""
    section: StrictInt
    """Which section of a jointed run, from 1."""
    sections: StrictInt
    """Sections of the run."""
    material: MaterialPart
    """What it is cut from."""
    length_nm: StrictInt
    """What the saw is set to, nanometres."""
    exact_nm: StrictInt
    """Length by the formulas, before rounding, nanometres."""
    cover_length_nm: StrictInt | None = None
    """Length of the cover that is cut together with it, nanometres; null when none is."""
    long_point_nm: StrictInt | None = None
    """Longer edge of a mitred piece, nanometres; its length is then its centre line. Null when square."""
    slope_left: Number = SQUARE
    """Slope of its left face, degrees; positive leans like `/`, 0 is square."""
    slope_right: Number = SQUARE
    """Slope of its right face, degrees."""
    left: EndCondition
    """What is at its left end."""
    right: EndCondition
    """What is at its right end."""
    place: PlacePart = PlacePart()
    """Where it goes."""
    where: WherePart | None = None
    """Where its line stood in the user's own list."""


class StripPart(PlanPart):
    """Strip for one fixture of a run."""

    domain: ClassVar[type] = StripCut

    job: str
    """Job."""
    run: str
    """Run."""
    quantity: StrictInt
    """Like fixtures."""
    marks: StrictInt
    """Whole cut marks."""
    length_nm: StrictInt
    """Length of the strip, nanometres."""
    dark_nm: StrictInt
    """Channel inside the caps that stays dark, nanometres."""
    for_next_mark_nm: StrictInt
    """Channel length that would gain one more mark, nanometres."""
    channel_nm: StrictInt = 0
    """Channel length it was fitted to, nanometres."""
    circuits: StrictInt = 1
    """Circuits it is divided into."""
    parts: tuple[StrictInt, ...] = ()
    """Marks of the pieces it is cut in, from the left."""


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


class UnplacedPart(PlanPart):
    """A piece, or a whole run, that the plan leaves out."""

    domain: ClassVar[type] = Unplaced

    job: str
    """Job."""
    run: str
    """Run."""
    piece: str
    """Piece; empty when the whole run is left out."""
    length_nm: StrictInt
    """Its length, nanometres."""
    reason: str
    """Why, in words."""
    code: str
    """Why, for programs."""
    where: WherePart | None = None
    """Where its line stood in the user's own list."""


class PlanDocument(PlanPart):
    """The whole answer, with all that is needed to check it."""

    domain: ClassVar[type] = Plan
    apart: ClassVar[frozenset[str]] = frozenset({"version"})
    told: ClassVar[Mapping[str, str]] = {"totals": "Sum of the groups' totals."}

    version: Literal[1] = Field(alias="schema")
    """Version of this document, 1."""
    id: str
    """Digest of what was asked for and of the parameters."""
    seed: StrictInt
    """Seed of the search."""
    follows: str = ""
    """Id of the plan that this one continues after a report from the shop; empty for a first plan."""
    revision: Annotated[StrictInt, Field(ge=0)] = 0
    """How many plans came before this one; left out for a first plan."""
    order: tuple[OrderPart, ...]
    """What to order."""
    groups: tuple[GroupPart, ...]
    """The bars, material by material."""
    jobs: tuple[JobPart, ...]
    """Share of each job."""
    unplaced: tuple[UnplacedPart, ...]
    """What is left out, with the reasons."""
    pieces: tuple[PiecePart, ...]
    """Every piece of the take-off, placed or not."""
    strips: tuple[StripPart, ...]
    """Strip of each run."""
    findings: tuple[FindingPart, ...]
    """What deserves a look."""
    small_parts: SmallPartsPart | None = None
    """Caps, clips, strip and the like; missing in plans older than they are."""
    reels: tuple[ReelPlanPart, ...] = ()
    """Strip on its reels; missing where no family names its reel."""
    request: RequestDocument
    """What was asked for."""

    @classmethod
    def items(cls, value: Plan) -> Iterator[tuple[str, object]]:
        """Begin with the version; the totals stand before the groups."""
        yield "schema", 1
        for key, held in super().items(value):
            if key == "groups":
                yield "totals", TotalsPart.tree(value.totals)
            if key != "revision" or value.revision:
                yield key, held
