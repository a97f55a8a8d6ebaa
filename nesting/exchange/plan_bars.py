"""The bars of a plan as JSON objects: cuts in saw order, the tail, what the shop reported."""

from __future__ import annotations

from typing import ClassVar

from pydantic import StrictBool, StrictInt

from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.mitre import SQUARE
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.exchange.json_numbers import Number
from nesting.exchange.plan_part import PlanPart


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
    silent: ClassVar[frozenset[str]] = frozenset({"state", "short"})

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
    short: StrictBool = False
    """Whether the bar was shorter than it should be; left out while it is not."""
