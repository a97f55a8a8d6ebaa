"""The picture of a bar as plain numbers: what lies where, and how many cells of a row each part gets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.plan import PlannedBar, TailFate
from nesting.takeoff.mitres import slope_mark
from nesting.units import Length


class SegmentKind(StrEnum):
    """What a stretch of a bar becomes."""

    TRIM = "trim"
    PIECE = "piece"
    KERF = "kerf"
    OFFCUT = "offcut"
    SCRAP = "scrap"


@dataclass(frozen=True, slots=True)
class Segment:
    r"""
    One stretch of a bar, from the raw leading end.

    Parameters
    ----------
    start, end
        Positions on the bar in nanometres, ``start < end``.
    label
        Piece id, tag of the offcut that is born, or empty.
    order
        Number of the cut that frees the piece, from 1; 0 for anything but a piece.
    marks
        How a mitred piece's two faces are drawn (``/``, ``|`` or ``\``); empty for all else.
    stop
        What the stop is set to for a mitred piece, which is drawn along its centre line.
    """

    kind: SegmentKind
    start: Length
    end: Length
    label: str = ""
    order: int = 0
    marks: tuple[str, str] | tuple[()] = ()
    stop: Length | None = None

    @property
    def shown(self) -> Length:
        """Give the length to write on it: the stop of a mitred piece, else its own."""
        return self.length if self.stop is None else self.stop

    @property
    def length(self) -> Length:
        """Give the length of the stretch."""
        return Length(self.end - self.start)


def bar_segments(bar: PlannedBar) -> tuple[Segment, ...]:
    """
    Give the stretches of a bar from its leading end to its far end, without gaps.

    The head trim includes its stroke. A stroke lies between two pieces and behind the last one; what
    the strokes leave behind the last piece is the tail, drawn as the plan says it ends.
    """
    parts: list[Segment] = []
    at = 0
    if bar.head:
        parts.append(Segment(SegmentKind.TRIM, Length(0), bar.head))
        at = int(bar.head)
    for order, cut in enumerate(bar.cuts, start=1):
        far = bar.head + cut.face
        near = far - cut.length
        if near > at:
            parts.append(Segment(SegmentKind.KERF, Length(at), Length(near)))
        marks = (slope_mark(cut.slope_start), slope_mark(cut.slope_end)) if cut.sloped else ()
        parts.append(
            Segment(SegmentKind.PIECE, Length(near), Length(far), cut.piece, order, marks, cut.long_point)
        )
        at = far
    if bar.length - bar.tail > at:
        parts.append(Segment(SegmentKind.KERF, Length(at), Length(bar.length - bar.tail)))
    if bar.tail:
        kept = bar.fate is TailFate.OFFCUT
        kind = SegmentKind.OFFCUT if kept else SegmentKind.SCRAP
        start = Length(bar.length - bar.tail)
        parts.append(Segment(kind, start, bar.length, bar.tail_tag if kept else ""))
    return tuple(parts)


def cells_of(segments: Sequence[Segment], cells: int, *, kerf_cells: int = 0) -> tuple[int, ...]:
    """
    Divide a row of cells among the stretches in proportion to their lengths.

    A kerf is far thinner than a cell, so it gets ``kerf_cells`` whatever its width (0: a line between
    two cells). Everything else gets at least one cell as long as there are enough, so that nothing is
    hidden, and otherwise lies within one cell of its true width.

    Parameters
    ----------
    cells
        Width of the whole bar in cells.

    Returns
    -------
    tuple[int, ...]
        Cells per stretch, shape ``(len(segments),)``, sum ``cells``.
    """
    kerfs = sum(1 for s in segments if s.kind is SegmentKind.KERF)
    drawn = [i for i, s in enumerate(segments) if s.kind is not SegmentKind.KERF]
    if kerfs * kerf_cells + len(drawn) > cells:
        kerf_cells = 0
    free = cells - kerfs * kerf_cells
    total = sum(segments[i].length for i in drawn)
    least = 1 if len(drawn) <= free else 0
    widths = {i: max(least, segments[i].length * free // total) for i in drawn}

    def excess(i: int) -> int:
        return widths[i] * total - segments[i].length * free

    while (off := free - sum(widths.values())) != 0:
        if off > 0:
            widths[min(drawn, key=excess)] += 1
        else:
            widths[max((i for i in drawn if widths[i] > least), key=excess)] -= 1
    return tuple(widths.get(i, kerf_cells) for i in range(len(segments)))
