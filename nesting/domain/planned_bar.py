"""One bar of a plan: its cuts in saw order, its tail, and what the shop has made of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.mitre import SQUARE
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
    short
        Whether the bar was shorter than it should be, so that its tail is shorter than its cuts explain.
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
    short: bool = False

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
