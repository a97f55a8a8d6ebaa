"""The bar to scale: pieces white with their cut number, everything else a pattern."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.domain.plan import PlannedBar
from nesting.paper.faces import Face
from nesting.paper.hatching import Box, Stroke, slanted
from nesting.paper.surface import Align, Surface
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments
from nesting.reports.lengths import BothUnits

# Thinnest mark that a worn printer still shows; a kerf is thinner on most scales.
_THINNEST = 0.35
_NUMBER_WIDTH = 3.2
_PITCH = {SegmentKind.OFFCUT: 2.4, SegmentKind.SCRAP: 1.1}


def draw_bar(surface: Surface, box: Box, bar: PlannedBar, lengths: BothUnits) -> None:
    """
    Draw a bar over the width of a box, leading end at the left.

    The piece of a cut that cannot be held carries an exclamation mark.
    """
    unheld = {order for order, cut in enumerate(bar.cuts, start=1) if not cut.held}
    scale = box.width / bar.length
    for segment in bar_segments(bar):
        part = Box(box.x + segment.start * scale, box.y, segment.length * scale, box.height)
        _draw_segment(surface, part, segment, unheld, lengths)
    surface.frame(box, stroke=1.2)


def draw_pattern(surface: Surface, box: Box, kind: SegmentKind) -> None:
    """Fill a box with the pattern of one kind of stretch, for pictures and for the legend."""
    if kind in (SegmentKind.TRIM, SegmentKind.KERF):
        surface.frame(box, stroke=0, fill=0)
    elif kind is not SegmentKind.PIECE:
        surface.strokes(_hatch(box, kind), width=0.5)


def _draw_segment(
    surface: Surface, part: Box, segment: Segment, unheld: set[int], lengths: BothUnits
) -> None:
    if segment.kind in (SegmentKind.TRIM, SegmentKind.KERF):
        width = max(part.width, _THINNEST)
        middle = part.x + part.width / 2
        left = part.x if segment.start == 0 else middle - width / 2
        draw_pattern(surface, Box(left, part.y, width, part.height), segment.kind)
        return
    draw_pattern(surface, part, segment.kind)
    surface.frame(part, stroke=0.6)
    inside = part.inset(min(0.6, part.width / 6), 0.6)
    if segment.kind is SegmentKind.PIECE:
        _draw_piece(surface, inside, segment, unheld, lengths)
    else:
        word = segment.label or ("keep" if segment.kind is SegmentKind.OFFCUT else "scrap")
        if inside.width >= 9:
            plate = Box(inside.x + 0.6, part.y + part.height / 2 - 2, min(inside.width - 1.2, 24), 4)
            surface.frame(plate, stroke=0, fill=1)
            surface.text(plate, word, size=8, face=Face.BOLD, align=Align.CENTRE)


def _draw_piece(
    surface: Surface, inside: Box, segment: Segment, unheld: set[int], lengths: BothUnits
) -> None:
    if inside.width < _NUMBER_WIDTH:
        return
    mark = "!" if segment.order in unheld else ""
    upper = Box(inside.x, inside.y, inside.width, inside.height * 0.56)
    lower = Box(inside.x, upper.bottom, inside.width, inside.height - upper.height)
    roomy = inside.width >= 9
    number = upper if roomy else inside
    first, last = segment.marks or ("", "")
    surface.text(
        number, f"{first} {segment.order}{mark} {last}".strip(), size=13, face=Face.BOLD, align=Align.CENTRE
    )
    if roomy:
        surface.text(lower, lengths.first(segment.shown), size=8, align=Align.CENTRE)


def _hatch(box: Box, kind: SegmentKind) -> Iterator[Stroke]:
    yield from slanted(box, _PITCH[kind], rising=True)
    if kind is SegmentKind.SCRAP:
        yield from slanted(box, _PITCH[kind], rising=False)
