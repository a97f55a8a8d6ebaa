"""The concrete answer: bars, cuts in saw order, tails, piece identities, order lines, totals."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.domain.goals import GoalPrice
from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.material import Material
from nesting.domain.mitre import SQUARE, MitreSection
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.reels import ReelPlan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.small_parts import SmallParts
from nesting.errors import NOWHERE, Finding, Where
from nesting.money import Money
from nesting.units import Length


class TailFate(StrEnum):
    """What becomes of a tail."""

    NONE = "none"
    OFFCUT = "offcut"
    SCRAP = "scrap"


@dataclass(frozen=True, slots=True)
class Cut:
    """
    One stroke that frees one piece.

    Parameters
    ----------
    piece
        Id of the piece.
    length
        Stop setting; of a mitred piece its centre line, see ``long_point``.
    face
        Position of the piece's far face from the first clean face: sum(a) + (j - 1) k. On a bar with
        mitred pieces along the centre line.
    held
        Whether the cut obeys the grip rule: the rest of the bar, or the piece, is long enough to hold.
    long_point
        Stop setting of a mitred piece; None for a square one.
    slope_start, slope_end
        Slopes of its faces as it lies on the bar, degrees; positive leans like ``/``.
    turned
        Whether it lies turned end for end.
    """

    piece: str
    length: Length
    face: Length
    held: bool = True
    long_point: Length | None = None
    slope_start: Fraction = SQUARE
    slope_end: Fraction = SQUARE
    turned: bool = False

    @property
    def stop(self) -> Length:
        """What the saw's stop is set to: the long point of a mitred piece, else the length."""
        return self.length if self.long_point is None else self.long_point

    @property
    def sloped(self) -> bool:
        """Whether a face of it is mitred."""
        return self.long_point is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedBar:
    """
    One bar with its cuts in saw order.

    Parameters
    ----------
    number
        From 1 in the plan.
    source
        Key of the stock line, or the offcut's tag.
    offcut
        Whether it comes from the rack.
    strokes
        Saw strokes, the head trim's included.
    kerf_loss
        Metal turned into chips by the strokes after the head trim.
    tail, fate
        What is left and what becomes of it.
    tail_tag
        Tag for the offcut that is born, empty otherwise.
    sliver
        Whether the last stroke has less than a kerf of metal to cut in.
    state
        How far the shop is with it; all that follows is empty while it is open or frozen.
    true_tail
        Tail as it was measured, or as it follows from the pieces that came out wrong; None when it is
        as planned. It decides the tail's fate.
    spoiled
        Cuts whose pieces came out wrong and are asked for again.
    defects, zones
        Damaged stretches of a stopped bar, and what is clear between them behind its last cut.
    """

    number: int
    source: str
    offcut: bool
    length: Length
    head: Length
    tail_loss: Length
    cuts: tuple[Cut, ...]
    strokes: int
    kerf_loss: Length
    tail: Length
    fate: TailFate
    tail_tag: str = ""
    sliver: bool = False
    state: BarState = BarState.OPEN
    true_tail: Length | None = None
    spoiled: tuple[Spoiled, ...] = ()
    defects: tuple[Span, ...] = ()
    zones: tuple[Zone, ...] = ()

    @property
    def tail_left(self) -> Length:
        """The tail as far as it is known: measured, else planned."""
        return self.tail if self.true_tail is None else self.true_tail

    @property
    def good_cuts(self) -> tuple[Cut, ...]:
        """The cuts whose pieces are good, or will be."""
        bad = {one.piece for one in self.spoiled}
        return tuple(cut for cut in self.cuts if cut.piece not in bad) if bad else self.cuts

    @property
    def returned(self) -> int:
        """
        What goes back to the rack, by the planned lengths: tail, clear stretches, spoiled pieces.

        Planned lengths add up to the bar whatever was measured; what was measured is the offcuts' own.
        """
        tail = self.tail if self.fate is TailFate.OFFCUT else 0
        kept = {one.piece for one in self.spoiled if one.tag}
        spoiled = sum(cut.length for cut in self.cuts if cut.piece in kept)
        return tail + spoiled + sum(zone.length for zone in self.zones if zone.tag)

    @property
    def scrap(self) -> int:
        """What is thrown away, by the planned lengths: all that is not good, chips, trim or returned."""
        good = sum(cut.length for cut in self.good_cuts)
        return self.length - self.head - good - self.kerf_loss - self.returned


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """
    Where the metal goes; used = good + kerf + trim + returned + scrap, exactly.

    Parameters
    ----------
    used
        Sum of the opened bars' lengths.
    good
        Sum of the pieces' lengths.
    kerf, trim
        Strokes after the head trim; head trims.
    returned, scrap
        Tails kept as offcuts; tails thrown away.
    """

    bars: int = 0
    used: int = 0
    good: int = 0
    kerf: int = 0
    trim: int = 0
    returned: int = 0
    scrap: int = 0

    @property
    def yield_share(self) -> float:
        """Give good / (used - returned), 0 when nothing was used up."""
        spent = self.used - self.returned
        return self.good / spent if spent else 0.0

    @property
    def waste_share(self) -> float:
        """Give (kerf + trim + scrap) / used, 0 when nothing was used."""
        return (self.kerf + self.trim + self.scrap) / self.used if self.used else 0.0

    def __add__(self, other: Totals) -> Totals:
        """Add two accounts."""
        return Totals(
            bars=self.bars + other.bars,
            used=self.used + other.used,
            good=self.good + other.good,
            kerf=self.kerf + other.kerf,
            trim=self.trim + other.trim,
            returned=self.returned + other.returned,
            scrap=self.scrap + other.scrap,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """
    The best of the simpler purchases: one length alone, or without one of the lengths bought.

    Parameters
    ----------
    bars
        (length, bars to order) of each length ordered, shortest first.
    cost
        What it costs, in the group's unit.
    proved
        Whether no plan with these lengths costs less.
    """

    bars: tuple[tuple[Length, int], ...]
    cost: int
    proved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """
    How far reality may be off before a group's plan fails.

    Parameters
    ----------
    kerf
        Largest kerf at which every bar still holds its cuts; None when no bar has two.
    bar
        How much shorter every new bar may be; None when there is no new bar.
    growth
        How much every run of the material may grow without costing more; None when it was not
        looked for.
    growth_cost
        What the next step of growth would cost; None when no end was found.
    """

    kerf: Length | None
    bar: Length | None
    growth: Length | None = None
    growth_cost: int | None = None


@dataclass(frozen=True, slots=True)
class SpareCut:
    """A spare piece that a bar's tail would give at no extra bar: the bar's number, the length."""

    bar: int
    length: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPlan:
    """
    The bars of one material.

    Parameters
    ----------
    priced
        Whether cost and bound are money; else they count bars bought.
    cost, bound
        Cost of the plan and proven lower bound, in ten-thousandths of the currency or in bars; as money
        it is what the order comes to, and what bars on hand and offcuts are charged with.
    cover_follows
        Whether each bar is cut together with a cover bar of the same length.
    mitre
        Section at the mitres, when pieces are mitred; None when all ends are square. Metal is then
        counted on the centre line: a wedge beside a mitred piece goes with the strokes.
    alternative, margins
        None in plans that do not say.
    spares
        Spare pieces that the tails would give, when they were asked for.
    goals
        Every second goal that was asked for, with its price; costs are in the group's unit.
    open_units
        Most units half finished at once while the group's bars are cut in their order; None in plans
        that do not say.
    """

    material: Material
    saw: SawRules
    bars: tuple[PlannedBar, ...]
    priced: bool
    cost: int
    bound: int
    ended: StopReason
    seconds: float
    totals: Totals
    cover_follows: bool = False
    mitre: MitreSection | None = None
    certificate: Certificate | None = None
    alternative: Alternative | None = None
    margins: Margins | None = None
    spares: tuple[SpareCut, ...] = ()
    goals: tuple[GoalPrice, ...] = ()
    open_units: int | None = None

    @property
    def proved(self) -> bool:
        """Whether no cheaper plan exists."""
        return self.bound >= self.cost

    @property
    def gap(self) -> float:
        """Give (cost - bound) / cost, 0 when nothing is spent."""
        return 0.0 if self.cost == 0 else max(self.cost - self.bound, 0) / self.cost


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """
    New bars to order of one stock length, and what the plan takes of it from the bars on hand.

    Parameters
    ----------
    bars
        Bars to order: needed less on hand, plus reserve and spare.
    price, sum
        Price of a bar after breaks, and of all bars ordered; None when no price is known.
    stock
        Index into the request's stock; None in plans that do not say.
    on_hand
        Bars taken from those already paid for.
    reserve
        Bars wanted beyond the need.
    spare
        Bars that fill a pack, or reach a break or a minimum; they go to stock.
    listed
        List price of a bar; None when it is the price paid.
    """

    family: str
    finish: str
    part: str
    lot: str
    length: Length
    bars: int
    price: Money | None
    sum: Money | None
    note: str = ""
    stock: int | None = None
    on_hand: int = 0
    reserve: int = 0
    spare: int = 0
    listed: Money | None = None

    @property
    def needed(self) -> int:
        """Bars that the plan cuts."""
        return self.bars + self.on_hand - self.reserve - self.spare


@dataclass(frozen=True, slots=True, kw_only=True)
class JobShare:
    """
    What one job takes from the plan: every bar is shared by the length its pieces consume.

    Parameters
    ----------
    pieces, good
        Number and total length of its pieces.
    consumed
        Its share of the metal used up (used - returned), nanometres.
    cost
        Its share of the money; shares of one plan add up exactly.
    """

    job: str
    pieces: int
    good: int
    consumed: int
    cost: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A piece, or a whole run, that the plan leaves out, with the reason in words."""

    job: str
    run: str
    piece: str
    length: Length
    reason: str
    code: str
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """
    The whole answer, with all that an auditor needs to check it.

    Parameters
    ----------
    id
        Digest of the normalised request and the parameters.
    request
        What was asked for.
    pieces
        Every piece the take-off gives, placed or not.
    groups
        One per material, in the order of their names.
    small_parts
        Caps, clips, strip and whatever else the fixtures need; None in plans that do not say.
    reels
        Strip on its reels, article by article; empty where no family names its reel.
    follows, revision
        Id of the plan that this one continues after a report from the shop, and how many plans came
        before it; empty and 0 for a first plan.
    """

    id: str
    request: Request
    pieces: tuple[Piece, ...]
    strips: tuple[StripCut, ...]
    groups: tuple[GroupPlan, ...]
    order: tuple[OrderLine, ...]
    jobs: tuple[JobShare, ...]
    unplaced: tuple[Unplaced, ...]
    findings: tuple[Finding, ...] = ()
    seed: int = 0
    small_parts: SmallParts | None = None
    reels: tuple[ReelPlan, ...] = ()
    follows: str = ""
    revision: int = 0

    @property
    def totals(self) -> Totals:
        """Give the sum of the groups' accounts."""
        total = Totals()
        for group in self.groups:
            total = total + group.totals
        return total
