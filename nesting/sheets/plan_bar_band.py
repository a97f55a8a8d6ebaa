"""A bar drawn to scale as a band of merged cells, told apart by border and text, not by colour."""

from __future__ import annotations

from typing import Any

from nesting.domain.plan import PlannedBar
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments, cells_of
from nesting.reports.lengths import METRIC, BothUnits
from nesting.sheets.plan_book import INK, SHADE, Book

GRID = 120  # narrow columns across the sheet; 2500 mm / 120 is 21 mm a column
GRID_PIXELS = 9
BAND_HEIGHT = 32.0
# A bold digit of the band's type takes about this many pixels.
_DIGIT_PIXELS = 7

_THIN, _STROKE, _DASHED = 1, 5, 8
_EDGE = {"border": _THIN, "border_color": INK}


def write_band(
    book: Book, sheet: Any, row: int, bar: PlannedBar, longest: int, lengths: BothUnits = METRIC
) -> None:
    """
    Draw a bar across one row.

    A thick upright line is a saw stroke; a piece shows the number of its cut and its length; the
    head trim is solid; an offcut to keep has a dashed edge; scrap is shaded and struck through with
    slashes.

    Parameters
    ----------
    longest
        Length that fills the whole grid, nanometres.
    """
    segments = bar_segments(bar)
    drawn = sum(1 for s in segments if s.kind is not SegmentKind.KERF)
    cells = min(max(bar.length * GRID // longest, min(drawn, GRID)), GRID)
    widths = cells_of(segments, cells)
    column = 0
    for index, (segment, width) in enumerate(zip(segments, widths, strict=True)):
        if not width:
            continue
        look = _look(segment)
        if index and segments[index - 1].kind is SegmentKind.KERF:
            look |= {"left": _STROKE}
        if index + 1 < len(segments) and segments[index + 1].kind is SegmentKind.KERF:
            look |= {"right": _STROKE}
        book.band(sheet, row, column, column + width - 1, band_label(segment, width, lengths), **look)
        column += width
    sheet.set_row(row, BAND_HEIGHT)


def band_label(segment: Segment, cells: int, lengths: BothUnits = METRIC) -> str:
    """Give the text that fits a stretch so many cells wide, empty where none does."""
    length = lengths.figure(segment.shown)
    first, last = segment.marks or ("", "")
    order = f"{first} {segment.order} {last}".strip()
    wanted: tuple[str, ...] = ()
    if segment.kind is SegmentKind.PIECE:
        wanted = (f"{order}\n{length}", order)
    elif segment.kind is SegmentKind.OFFCUT:
        tag = f"keep {segment.label}".rstrip()
        wanted = (f"{tag}\n{length}", f"keep\n{length}", "keep")
    elif segment.kind is SegmentKind.SCRAP:
        wanted = (f"/// scrap {length} ///", f"scrap {length}", f"/ {length} /", "///", "/")
    room = cells * GRID_PIXELS - 3
    return next((text for text in wanted if _pixels(text) <= room), "")


def _pixels(text: str) -> int:
    return max(len(line) for line in text.split("\n")) * _DIGIT_PIXELS


def _look(segment: Segment) -> dict[str, Any]:
    look: dict[str, Any] = {"align": "center", "text_wrap": True, "font_size": 9, **_EDGE}
    if segment.kind is SegmentKind.TRIM:
        return look | {"bg_color": INK}
    if segment.kind is SegmentKind.OFFCUT:
        return look | {"border": _DASHED, "italic": True}
    if segment.kind is SegmentKind.SCRAP:
        return look | {"bg_color": SHADE}
    return look | {"bold": True}
