"""One bar, or bars cut alike, as one block of a cut sheet."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.made import BarState
from nesting.paper.bar_drawing import draw_bar
from nesting.paper.book import Book
from nesting.paper.cut_table import CutTable, row_heights
from nesting.paper.faces import LINE, POINTS_PER_MM, Face, line_width
from nesting.paper.flow import NARROWEST
from nesting.paper.hatching import Box
from nesting.paper.surface import Align, Surface
from nesting.reports.bar_warnings import bar_warnings
from nesting.reports.gangs import Gang
from nesting.reports.slope_words import slope_notes
from nesting.reports.unverified import cuts_warning, unverified_cuts
from nesting.reports.whereabouts import numbers_words

# Heights in millimetres.
_TITLE, _WARNING, _NOTE, _CAPTION, _PICTURE, _BELOW = 11.0, 8.0, 4.6, 4.0, 11.0, 7.0

# Type of a warning in points, and what its band holds besides: the exclamation mark and the edges.
_WARNING_SIZE, _WARNING_EDGES = 10.0, 9.0
# Width of a rack place beside the offcut's tag, and the least type in points that its two lines are read in.
_RACK_WIDTH, _RACK_SIZE = 20.5, 8.0


@dataclass(frozen=True, slots=True)
class CutBlock:
    """
    The block of a gang, or of those of its cuts that one page can hold.

    Parameters
    ----------
    first, last
        Numbers of the cuts in this block, both included.
    """

    gang: Gang
    book: Book
    first: int
    last: int

    @property
    def height(self) -> float:
        """Height in millimetres, the space below included."""
        warned = sum(map(_band_height, self._warnings)) + len(self._notes) * _NOTE
        return _TITLE + warned + _CAPTION + _PICTURE + self._table.height + _BELOW

    def draw(self, surface: Surface, box: Box) -> None:
        """Print title, warnings, notes, picture, cuts and tail."""
        y = box.y
        self._title(surface, Box(box.x, y + 1.5, box.width, _TITLE - 3))
        y += _TITLE
        for warning in self._warnings:
            _warn(surface, Box(box.x, y, box.width, _band_height(warning) - 1), warning)
            y += _band_height(warning)
        for note in self._notes:
            surface.text(Box(box.x, y, box.width, _NOTE), note, size=9.5, face=Face.BOLD)
            y += _NOTE
        self._picture(surface, Box(box.x, y, box.width, _CAPTION + _PICTURE))
        y += _CAPTION + _PICTURE
        self._table.draw(surface, Box(box.x, y, box.width, self._table.height))

    @property
    def _table(self) -> CutTable:
        return CutTable(self.gang, self.book, self.first, self.last)

    @property
    def _notes(self) -> tuple[str, ...]:
        place = self._rack_place
        return ((f"Rack place: {place}",) if _long(place) else ()) + slope_notes(self.gang.bars)

    @property
    def _rack_place(self) -> str:
        """Give where the offcut lies; empty for a new bar, and for an offcut that nobody gave a place."""
        bar = self.gang.model
        offcut = self.book.rack.get(bar.source) if bar.offcut else None
        return offcut.place if offcut else ""

    @property
    def _warnings(self) -> tuple[str, ...]:
        said = bar_warnings(self.gang.model, self.gang.group.saw, self.book.lengths)
        verify = cuts_warning(unverified_cuts(self.gang.model, self.book.unverified))
        said = (verify, *said) if verify else said
        if self.gang.model.state is BarState.FROZEN:
            said = (*said, "FROZEN: the same as on the sheets before; cut it only if it is not cut yet.")
        count = len(self.gang.model.cuts)
        if self.last - self.first + 1 < count:
            said = (f"CUTS {self.first} TO {self.last} OF {count} ONLY: this bar needs several pages.", *said)
        return said

    def _title(self, surface: Surface, box: Box) -> None:
        surface.strokes(((box.x, box.y - 1.5, box.right, box.y - 1.5),), width=2.0)
        bar, numbers = self.gang.model, tuple(bar.number for bar in self.gang.bars)
        alone = len(numbers) == 1
        name = f"BAR {numbers[0]}" if alone else f"BARS {numbers_words(numbers)}"
        surface.text(Box(box.x, box.y, 58, box.height), name, size=21, face=Face.BOLD)
        plate = Box(box.x + 60, box.y, 66, box.height)
        if bar.offcut:
            self._offcut(surface, plate, bar.source)
        elif self.gang.words:
            surface.frame(plate.inset(0, 0.5), stroke=1.6)
            surface.text(plate.inset(1, 0.5), self.gang.words, size=13, face=Face.BOLD, align=Align.CENTRE)
        right = Box(plate.right + 2, box.y, box.right - plate.right - 2, 3.2)
        kind = "length of the offcut" if bar.offcut else "from a new bar" if alone else "from new bars"
        surface.text(right, kind, size=7.5, align=Align.RIGHT)
        length = Box(right.x, right.bottom, right.width, box.bottom - right.bottom)
        words = self.book.lengths.both(bar.length)
        surface.text(length, words, size=11, face=Face.BOLD, align=Align.RIGHT)

    def _offcut(self, surface: Surface, plate: Box, tag: str) -> None:
        place = "rack place below" if _long(self._rack_place) else f"rack {self._rack_place}".strip()
        surface.frame(plate, stroke=0, fill=0)
        left = Box(plate.x + 1.5, plate.y, plate.width - _RACK_WIDTH - 4.5, plate.height)
        surface.text(left, f"OFFCUT {tag}", size=13, face=Face.CODE, white=True, lines=2)
        right = Box(left.right + 1.5, plate.y, _RACK_WIDTH, plate.height)
        surface.text(right, place, size=12, face=Face.BOLD, align=Align.RIGHT, white=True, lines=2)

    def _picture(self, surface: Surface, box: Box) -> None:
        bar = self.gang.model
        half = box.width / 2
        start = "▶ raw end first: trim it" if bar.head else "▶ clean end first: no trim"
        end = "raw end" if bar.tail_loss else "clean end"
        surface.text(Box(box.x, box.y, half, _CAPTION), start, size=8, face=Face.BOLD)
        surface.text(Box(box.x + half, box.y, half, _CAPTION), end, size=8, align=Align.RIGHT)
        draw_bar(surface, Box(box.x, box.y + _CAPTION, box.width, _PICTURE - 1.5), bar, self.book.lengths)


def cut_blocks(gang: Gang, book: Book, room: float) -> tuple[CutBlock, ...]:
    """
    Give the block of a gang; several only when its cuts do not fit a page of ``room`` millimetres.

    Every part repeats the title, the picture and the warnings.
    """
    count = len(gang.model.cuts)
    whole = CutBlock(gang, book, 1, count)
    if whole.height <= room:
        return (whole,)
    rows = row_heights(gang, book)
    # A part has one warning more than the whole: that the bar goes on.
    free = room - (whole.height + _WARNING - sum(rows))
    parts, first, left = [], 1, free
    for order, row in enumerate(rows, start=1):
        if row > left and order > first:
            parts.append(CutBlock(gang, book, first, order - 1))
            first, left = order, free
        left -= row
    return (*parts, CutBlock(gang, book, first, count))


def _long(place: str) -> bool:
    # Two lines break at words, so that they are not filled to the end.
    return line_width(place, Face.BOLD, _RACK_SIZE) > 2 * 0.8 * _RACK_WIDTH


def _band_height(warning: str) -> float:
    """Give the height of a warning's band in millimetres: one line of its type, or two."""
    lines = 1 if line_width(warning, Face.BOLD, _WARNING_SIZE) <= NARROWEST - _WARNING_EDGES else 2
    return _WARNING + (lines - 1) * _WARNING_SIZE * LINE / POINTS_PER_MM


def _warn(surface: Surface, band: Box, warning: str) -> None:
    surface.frame(band, stroke=0, fill=0)
    surface.text(Box(band.x + 2, band.y, 5, band.height), "!", size=17, face=Face.BOLD, white=True)
    said = Box(band.x + 7, band.y, band.width - _WARNING_EDGES, band.height)
    surface.text(said, warning, size=_WARNING_SIZE, face=Face.BOLD, lines=2, white=True)
