"""The table of a block: one row a cut, one column a bar, boxes to tick and to write in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.paper.book import Book
from nesting.paper.faces import LINE, POINTS_PER_MM, Face, line_width
from nesting.paper.flow import NARROWEST
from nesting.paper.hatching import Box
from nesting.paper.surface import Align, Surface
from nesting.reports.bar_warnings import without_last_stroke
from nesting.reports.gangs import Gang
from nesting.reports.slope_words import lies_words, marked
from nesting.reports.unverified import MARK

# Heights in millimetres.
_HEAD, _TRIM, _TAIL = 6.5, 6.5, 13.0
# Beside other bars a cell is narrow: the place takes two lines of its whole width, under the box to tick.
_ROW, _COVER_LINE, _MITRE_LINE, _NARROW_LINE = 11.5, 2.0, 4.2, 3.0
# Widths of the columns left of the bars' own: number, stop, far face, first-off measure.
_SHARED = (10.0, 43.0, 22.0, 16.0)
_TICK, _TICK_EDGE, _CELL_EDGE = 6.0, 1.2, 1.3
# Least type in points that a place is read in, and the most lines of it.
_PLACE_SIZE, _MOST_LINES = 7.0, 5
# Height of an id where its bar is alone; the rest of the row is the place's.
_ALONE_SHARE, _ALONE_MOST = 0.52, 5.4
# Lines break at words: that much of a line's width is filled at least, taken over a few of them.
_FILLED = 0.8


def row_heights(gang: Gang, book: Book) -> tuple[float, ...]:
    """Give the height of every cut's row in millimetres; in each the longest place decides."""
    least = _ROW + (_COVER_LINE if gang.group.cover_follows else 0.0)
    if any(cut.sloped for cut in gang.model.cuts):
        least = _ROW + _MITRE_LINE
    width = (NARROWEST - sum(_SHARED)) / len(gang.bars) - 2 * _CELL_EDGE
    lines_in_least = 1
    if len(gang.bars) == 1:
        width -= _TICK + _TICK_EDGE
    else:
        least, lines_in_least = least + _NARROW_LINE, 2
    lines = (
        max(_place_lines(_unbroken(book.rooms[cut.piece]), width) for cut in cuts)
        for cuts in zip(*(bar.cuts for bar in gang.bars), strict=True)
    )
    pitch = _PLACE_SIZE * LINE / POINTS_PER_MM
    return tuple(least + max(count - lines_in_least, 0) * pitch for count in lines)


@dataclass(frozen=True, slots=True)
class CutTable:
    """
    The cuts of a gang from ``first`` to ``last``, both included, and the tail after the last cut.

    Parameters
    ----------
    first, last
        Numbers of cuts, from 1.
    """

    gang: Gang
    book: Book
    first: int
    last: int

    @property
    def height(self) -> float:
        """Height in millimetres."""
        return _HEAD + (_TRIM if self._trims else 0.0) + sum(self._rows) + _TAIL

    def draw(self, surface: Surface, box: Box) -> None:
        """Print headings, trim, cuts and tail."""
        y = box.y
        self._heading(surface, Box(box.x, y, box.width, _HEAD))
        y += _HEAD
        ruled = [y]
        if self._trims:
            self._trim(surface, Box(box.x, y, box.width, _TRIM))
            y += _TRIM
            ruled.append(y)
        for order, row in enumerate(self._rows, start=self.first):
            self._cut(surface, Box(box.x, y, box.width, row), order)
            y += row
            ruled.append(y)
        self._tail(surface, Box(box.x, y, box.width, _TAIL))
        surface.strokes(((box.x, at, box.right, at) for at in ruled), width=0.5)
        low = box.bottom if self._ends else y
        edges = (box.x + _SHARED[0], *(column.x for column in self._bars(box)))
        surface.strokes(((x, box.y, x, low) for x in edges), width=0.5)
        surface.strokes(((box.x, y, box.right, y),), width=1.2)
        surface.frame(box, stroke=1.2)

    @property
    def _rows(self) -> tuple[float, ...]:
        return row_heights(self.gang, self.book)[self.first - 1 : self.last]

    @property
    def _trims(self) -> bool:
        return self.first == 1 and self.gang.model.head > 0

    @property
    def _ends(self) -> bool:
        return self.last == len(self.gang.model.cuts)

    def _heading(self, surface: Surface, box: Box) -> None:
        surface.frame(box, stroke=0, fill=0.9)
        for cell, words in zip(
            _shared(box), ("cut", "set the stop to", "far face at", "measured"), strict=True
        ):
            surface.text(cell.inset(1.2, 0), words, size=8)
        for bar, cell in zip(self.gang.bars, self._bars(box), strict=True):
            name = Box(cell.x + 1.5, cell.y, cell.width - 11, cell.height)
            surface.text(name, f"BAR {bar.number}", size=11, face=Face.BOLD)
            done = Box(cell.right - 9.5, cell.y, 8.3, cell.height)
            surface.text(done, "done", size=7, align=Align.RIGHT)

    def _trim(self, surface: Surface, box: Box) -> None:
        number, stop, _, measured = _shared(box)
        surface.text(number.inset(1, 0), "trim", size=8.5, face=Face.BOLD, align=Align.CENTRE)
        words = f"{self.book.lengths.both(self.gang.model.head)} off the raw end, measure from the clean face"
        wide = Box(stop.x + 1.5, box.y, measured.right - stop.x - 2.5, box.height)
        surface.text(wide, words, size=8.5, lines=2)
        for cell in self._bars(box):
            _tick(surface, cell, 4.6)

    def _cut(self, surface: Surface, box: Box, order: int) -> None:
        lengths, cut = self.book.lengths, self.gang.model.cuts[order - 1]
        number, stop, face, measured = _shared(box)
        if not cut.held:
            surface.frame(number, stroke=0, fill=0)
        mark = f"{order}" if cut.held else f"!{order}"
        surface.text(
            number.inset(0.6, 0), mark, size=18, face=Face.BOLD, align=Align.CENTRE, white=not cut.held
        )
        if cut.sloped:
            # The angle holds for all bars of the block; which piece lies turned is each bar's own.
            angle = Box(stop.x + 1.5, box.bottom - _MITRE_LINE, face.right - stop.x - 2.7, _MITRE_LINE - 0.3)
            # The marks round the cut's number are those of the picture; round an id they would shrink it.
            lies = f"{marked(cut, str(order))}: {lies_words(replace(cut, turned=False))}"
            surface.text(angle, lies, size=11, face=Face.BOLD)
            stop = Box(stop.x, stop.y, stop.width, stop.height - _MITRE_LINE)
            face = Box(face.x, face.y, face.width, face.height - _MITRE_LINE)
        down = (stop.height - 10.6) / 2
        _two(surface, stop.inset(1.5, down), lengths.first(cut.stop), lengths.second(cut.stop), 20, 10.5)
        _two(surface, face.inset(1.2, down + 1), lengths.first(cut.face), lengths.second(cut.face), 9, 8)
        self._check(surface, measured, order)
        for bar, cell in zip(self.gang.bars, self._bars(box), strict=True):
            self._piece(surface, cell, bar.cuts[order - 1])

    def _check(self, surface: Surface, cell: Box, order: int) -> None:
        """Print the box for the first-off measure, or why there is none, under what must be minded first."""
        bar = self.gang.model
        cut = bar.cuts[order - 1]
        plates = ("CLAMP",) if not cut.held else ()
        for word in (MARK, *plates) if cut.piece in self.book.unverified else plates:
            plate = Box(cell.x + 0.8, cell.y + 0.7, cell.width - 1.6, 4.0)
            surface.frame(plate, stroke=0, fill=0)
            surface.text(plate, word, size=9, face=Face.BOLD, align=Align.CENTRE, white=True)
            cell = Box(cell.x, plate.bottom, cell.width, cell.bottom - plate.bottom)
        if order == len(bar.cuts) and without_last_stroke(bar):
            words = "no stroke: the rest is the piece"
            surface.text(cell.inset(1, 0.6), words, size=7, face=Face.BOLD, lines=3)
        elif order > 1 and bar.cuts[order - 2].stop == cut.stop:
            surface.text(cell.inset(1, 0), "same stop", size=8, align=Align.CENTRE)
        else:
            surface.frame(cell.inset(1.0, 0.9), stroke=0.8)

    def _piece(self, surface: Surface, cell: Box, cut: Cut) -> None:
        piece = self.book.pieces[cut.piece]
        alone = len(self.gang.bars) == 1
        below = self._below(piece, cut)
        inside = cell.inset(_CELL_EDGE, 0.6)
        low = Box(inside.x, inside.bottom - 3.2, inside.width, 3.2)
        upper = Box(inside.x, inside.y, inside.width, inside.height - (3.2 if below else 0.0))
        beside = upper.width - _TICK - _TICK_EDGE
        high = min(upper.height * _ALONE_SHARE, _ALONE_MOST) if alone else _TICK
        name = Box(upper.x, upper.y, beside, high)
        place = Box(upper.x, name.bottom, beside if alone else upper.width, upper.height - name.height)
        surface.text(name, cut.piece, size=13, face=Face.CODE, lines=2)
        surface.text(
            place, _unbroken(self.book.rooms[cut.piece]), size=9.5 if alone else 8, lines=_MOST_LINES
        )
        _tick(surface, Box(cell.x, upper.y, cell.width, upper.height if alone else _TICK), _TICK)
        surface.text(low, below, size=7.5, face=Face.BOLD if cut.turned else Face.PLAIN)

    def _below(self, piece: Piece, cut: Cut) -> str:
        """Say how a piece lies, and what its cover comes to."""
        said = ["TURNED"] if cut.turned else []
        if piece.cover_length is not None:
            alone, lengths = len(self.gang.bars) == 1, self.book.lengths
            said.append(
                f"cover comes to {lengths.both(piece.cover_length)}"
                if alone
                else f"cover {lengths.first(piece.cover_length)}"
            )
        return ", ".join(said)

    def _tail(self, surface: Surface, box: Box) -> None:
        bar, lengths = self.gang.model, self.book.lengths
        if not self._ends:
            words = f"the bar goes on: cut {self.last + 1} follows on the next page"
            surface.text(box.inset(1.5, 0), words, size=12, face=Face.BOLD)
            return
        number, stop, face, measured = _shared(box)
        surface.text(number.inset(0.8, 0), "tail", size=10, face=Face.BOLD, align=Align.CENTRE)
        if bar.fate is TailFate.NONE:
            words = "none: the blade takes the rest" if bar.sliver else "none: nothing is left"
            surface.text(Box(stop.x + 1.5, box.y, measured.right - stop.x - 3, box.height), words, size=10)
            return
        expected = stop.inset(1.5, 1.2)
        _two(surface, expected, f"expect {lengths.first(bar.tail)}", lengths.second(bar.tail), 13, 9)
        words = "KEEP: measure, label, rack" if bar.fate is TailFate.OFFCUT else "SCRAP: measure first"
        fate = Box(face.x + 1, box.y, measured.right - face.x - 2, box.height)
        surface.text(fate, words, size=11, face=Face.BOLD, lines=2)
        for each, cell in zip(self.gang.bars, self._bars(box), strict=True):
            self._tail_field(surface, cell, each)

    def _tail_field(self, surface: Surface, cell: Box, bar: PlannedBar) -> None:
        alone = len(self.gang.bars) == 1
        field = cell.inset(1.2, 1.4)
        if alone:
            field = Box(cell.right - 39.2, field.y, 38.0, field.height)
        elif bar.tail_tag:
            field = Box(field.x, field.y + 4.0, field.width, field.height - 4.0)
        if bar.tail_tag:
            tag = (
                Box(cell.x + 1.3, cell.y + 1, field.x - cell.x - 3, cell.height - 2)
                if alone
                else Box(cell.x + 1.3, cell.y + 0.8, cell.width - 2.6, 4.4)
            )
            surface.text(tag, bar.tail_tag, size=14, face=Face.CODE, lines=2)
        surface.frame(field, stroke=0.8)
        surface.text(Box(field.x + 0.8, field.y + 0.3, field.width - 1.6, 2.8), "measured", size=6.5)

    def _bars(self, box: Box) -> tuple[Box, ...]:
        """Give the bars' own columns in a row of the table."""
        left = box.x + sum(_SHARED)
        width = (box.right - left) / len(self.gang.bars)
        return tuple(Box(left + i * width, box.y, width, box.height) for i in range(len(self.gang.bars)))


def _unbroken(place: str) -> str:
    """Give where a piece goes; a slash stays with the word before it, so that no line begins with one."""
    return place.replace(" / ", "\N{NO-BREAK SPACE}/ ")


def _place_lines(place: str, width: float) -> int:
    needed = ceil(line_width(place, Face.PLAIN, _PLACE_SIZE) / (width * _FILLED))
    return min(needed, _MOST_LINES)


def _shared(box: Box) -> tuple[Box, Box, Box, Box]:
    """Give the four columns that all bars of the block share: number, stop, face, measured."""
    number = Box(box.x, box.y, _SHARED[0], box.height)
    stop = Box(number.right, box.y, _SHARED[1], box.height)
    face = Box(stop.right, box.y, _SHARED[2], box.height)
    return number, stop, face, Box(face.right, box.y, _SHARED[3], box.height)


def _two(surface: Surface, box: Box, first: str, second: str, size: float, small: float) -> None:
    """Print a length in the shop's unit and below it in the other."""
    upper = Box(box.x, box.y, box.width, box.height * size / (size + small))
    lower = Box(box.x, upper.bottom, box.width, box.bottom - upper.bottom)
    surface.text(upper, first, size=size, face=Face.BOLD)
    surface.text(lower, second, size=small)


def _tick(surface: Surface, cell: Box, side: float) -> None:
    """Draw an empty box at the right of a cell."""
    box = Box(cell.right - side - _TICK_EDGE, cell.y + (cell.height - side) / 2, side, side)
    surface.frame(box, stroke=1.1, fill=1)
