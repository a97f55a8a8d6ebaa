"""One bar, or bars cut alike, as one block of a cut sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, PlannedBar, TailFate
from nesting.domain.stock import Offcut
from nesting.paper.bar_drawing import draw_bar
from nesting.paper.bar_warnings import bar_warnings, without_last_stroke
from nesting.paper.faces import Face
from nesting.paper.gangs import Gang
from nesting.paper.hatching import Box
from nesting.paper.lengths import BothUnits
from nesting.paper.surface import Align, Surface
from nesting.reports.whereabouts import numbers_words, pieces_by_id, room_words

# Heights in millimetres.
_TITLE, _WARNING, _CAPTION, _PICTURE, _HEAD, _TRIM, _TAIL, _BELOW = 11.0, 8.0, 4.0, 11.0, 6.5, 6.5, 13.0, 7.0
_ROW, _ROW_WITH_COVER = 11.5, 13.5
# Widths of the columns left of the bars' own.
_ORDER, _STOP, _FACE, _FIRST = 11.0, 44.0, 24.0, 18.0
_TICK = 6.0


@dataclass(frozen=True, slots=True)
class Book:
    """What every block looks up: units, pieces by id, the rack's offcuts by tag."""

    lengths: BothUnits
    pieces: Mapping[str, Piece]
    rack: Mapping[str, Offcut]

    @classmethod
    def of(cls, plan: Plan, lengths: BothUnits) -> Book:
        """Open the book of a plan."""
        return cls(lengths, pieces_by_id(plan), {offcut.tag: offcut for offcut in plan.request.offcuts})


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
        rows = (self.last - self.first + 1) * self._row
        trim = _TRIM if self._trims else 0.0
        warned = len(self._warnings) * _WARNING
        return _TITLE + warned + _CAPTION + _PICTURE + _HEAD + trim + rows + _TAIL + _BELOW

    def draw(self, surface: Surface, box: Box) -> None:
        """Print title, warnings, picture, cuts and tail."""
        y = box.y
        self._title(surface, Box(box.x, y, box.width, _TITLE))
        y += _TITLE
        for warning in self._warnings:
            band = Box(box.x, y, box.width, _WARNING - 1)
            surface.frame(band, stroke=0, fill=0)
            surface.text(Box(band.x + 2, band.y, 6, band.height), "!", size=17, face=Face.BOLD, white=True)
            said = Box(band.x + 7, band.y, band.width - 9, band.height)
            surface.text(said, warning, size=10, face=Face.BOLD, lines=2, white=True)
            y += _WARNING
        self._picture(surface, Box(box.x, y, box.width, _CAPTION + _PICTURE))
        y += _CAPTION + _PICTURE
        table = Box(box.x, y, box.width, box.bottom - _BELOW - y)
        self._table(surface, table)

    @property
    def _row(self) -> float:
        return _ROW_WITH_COVER if self.gang.group.cover_follows else _ROW

    @property
    def _trims(self) -> bool:
        return self.first == 1 and self.gang.model.head > 0

    @property
    def _ends(self) -> bool:
        return self.last == len(self.gang.model.cuts)

    @property
    def _warnings(self) -> tuple[str, ...]:
        said = bar_warnings(self.gang.model, self.gang.group.saw, self.book.lengths)
        if self.first > 1 or not self._ends:
            count = len(self.gang.model.cuts)
            said = (f"CUTS {self.first} TO {self.last} OF {count} ONLY: this bar needs several pages.", *said)
        return said

    def _title(self, surface: Surface, box: Box) -> None:
        bar, lengths = self.gang.model, self.book.lengths
        surface.strokes(((box.x, box.y, box.right, box.y),), width=2.0)
        numbers = tuple(b.number for b in self.gang.bars)
        alone = len(numbers) == 1
        name = f"BAR {numbers[0]}" if alone else f"BARS {numbers_words(numbers)}"
        inner = Box(box.x, box.y + 1.5, box.width, box.height - 3)
        surface.text(Box(inner.x, inner.y, 58, inner.height), name, size=21, face=Face.BOLD)
        x = inner.x + 60
        if not alone:
            plate = Box(x, inner.y + 0.5, 46, inner.height - 1)
            surface.frame(plate, stroke=1.6)
            words = f"cut {len(numbers)} bars alike"
            surface.text(plate.inset(1, 0), words, size=12, face=Face.BOLD, align=Align.CENTRE)
        if bar.offcut:
            offcut = self.book.rack.get(bar.source)
            place = f"rack {offcut.place}" if offcut and offcut.place else "rack"
            plate = Box(x, inner.y, 66, inner.height)
            surface.frame(plate, stroke=0, fill=0)
            words = f"OFFCUT {bar.source}"
            surface.text(
                Box(x + 1.5, inner.y, 41, inner.height), words, size=13, face=Face.CODE, white=True, lines=2
            )
            surface.text(
                Box(x + 44, inner.y, 20.5, inner.height),
                place,
                size=12,
                face=Face.BOLD,
                align=Align.RIGHT,
                white=True,
                lines=2,
            )
        right = Box(inner.right - 62, inner.y, 62, inner.height)
        kind = "length of the offcut" if bar.offcut else "from a new bar" if alone else "from new bars"
        surface.text(Box(right.x, right.y, right.width, 3.2), kind, size=7.5, align=Align.RIGHT)
        surface.text(
            Box(right.x, right.y + 3.2, right.width, right.height - 3.2),
            lengths.both(bar.length),
            size=11,
            face=Face.BOLD,
            align=Align.RIGHT,
        )

    def _picture(self, surface: Surface, box: Box) -> None:
        bar = self.gang.model
        half = box.width / 2
        start = "▶ raw end first: trim it" if bar.head else "▶ clean end first: no trim"
        end = "raw end" if bar.tail_loss else "clean end"
        caption = Box(box.x, box.y, half, _CAPTION)
        surface.text(caption, start, size=8, face=Face.BOLD)
        surface.text(Box(box.x + half, box.y, half, _CAPTION), end, size=8, align=Align.RIGHT)
        draw_bar(surface, Box(box.x, box.y + _CAPTION, box.width, _PICTURE - 1.5), bar, self.book.lengths)

    def _table(self, surface: Surface, box: Box) -> None:
        y = box.y
        self._heading(surface, Box(box.x, y, box.width, _HEAD))
        y += _HEAD
        ruled = [y]
        if self._trims:
            self._trim(surface, Box(box.x, y, box.width, _TRIM))
            y += _TRIM
            ruled.append(y)
        for order in range(self.first, self.last + 1):
            self._cut(surface, Box(box.x, y, box.width, self._row), order)
            y += self._row
            ruled.append(y)
        self._tail(surface, Box(box.x, y, box.width, _TAIL))
        surface.strokes(((box.x, at, box.right, at) for at in ruled), width=0.5)
        edges = [box.x, box.x + _ORDER, *(column.x for column in self._columns(box)), box.right]
        surface.strokes(((x, box.y, x, y) for x in edges), width=0.5)
        surface.strokes(((box.x, y, box.right, y),), width=1.2)
        surface.frame(box, stroke=1.2)

    def _heading(self, surface: Surface, box: Box) -> None:
        surface.frame(box, stroke=0, fill=0.9)
        order, stop, face, first = _columns(box)
        for cell, words in (
            (order, "cut"),
            (stop, "set the stop to"),
            (face, "far face at"),
            (first, "measured"),
        ):
            surface.text(cell.inset(1.2, 0), words, size=8)
        for bar, cell in zip(self.gang.bars, self._columns(box), strict=True):
            surface.text(cell.inset(1.5, 0), f"BAR {bar.number}", size=11, face=Face.BOLD)
            surface.text(Box(cell.right - 9.5, cell.y, 8.3, cell.height), "done", size=7, align=Align.RIGHT)

    def _trim(self, surface: Surface, box: Box) -> None:
        order, stop, _, first = _columns(box)
        surface.text(order.inset(1, 0), "trim", size=8.5, face=Face.BOLD, align=Align.CENTRE)
        words = f"{self.book.lengths.both(self.gang.model.head)} off the raw end, measure from the clean face"
        wide = Box(stop.x + 1.5, box.y, first.right - stop.x - 2.5, box.height)
        surface.text(wide, words, size=8.5, lines=2)
        for cell in self._columns(box):
            _tick(surface, cell, 4.6)

    def _cut(self, surface: Surface, box: Box, order: int) -> None:
        model, lengths = self.gang.model, self.book.lengths
        cut = model.cuts[order - 1]
        number, stop, face, first = _columns(box)
        if not cut.held:
            surface.frame(number, stroke=0, fill=0)
        mark = f"{order}" if cut.held else f"!{order}"
        surface.text(
            number.inset(0.8, 0), mark, size=18, face=Face.BOLD, align=Align.CENTRE, white=not cut.held
        )
        _two(surface, stop.inset(1.5, 0.6), lengths.first(cut.length), lengths.second(cut.length), 20, 11)
        _two(surface, face.inset(1.2, 1.6), lengths.first(cut.face), lengths.second(cut.face), 9, 8)
        if not cut.held:
            plate = Box(first.x + 0.8, box.y + 1, first.width - 1.6, box.height - 2)
            surface.frame(plate, stroke=0, fill=0)
            surface.text(
                plate.inset(0.8, 0.4), "CLAMP WITH BLOCK", size=8, face=Face.BOLD, lines=2, white=True
            )
        elif order == len(model.cuts) and without_last_stroke(model):
            surface.text(
                first.inset(1, 0.6), "no stroke: the rest is the piece", size=7, face=Face.BOLD, lines=3
            )
        elif order > 1 and model.cuts[order - 2].length == cut.length:
            surface.text(first.inset(1, 0), "same stop", size=8, align=Align.CENTRE)
        else:
            field = Box(first.x + 1.2, box.y + 2, first.width - 2.4, box.height - 4)
            surface.frame(field, stroke=0.8)
        for bar, cell in zip(self.gang.bars, self._columns(box), strict=True):
            self._piece(surface, cell, bar.cuts[order - 1].piece)

    def _piece(self, surface: Surface, cell: Box, identity: str) -> None:
        piece = self.book.pieces[identity]
        text = Box(cell.x + 1.3, cell.y + 0.6, cell.width - _TICK - 3.6, cell.height - 1.2)
        room = room_words(piece.place)
        shares = (0.5, 0.5, 0.0) if piece.cover_length is None else (0.4, 0.33, 0.27)
        name = Box(text.x, text.y, text.width, text.height * shares[0])
        place = Box(text.x, name.bottom, text.width, text.height * shares[1])
        surface.text(name, identity, size=13, face=Face.CODE, lines=2)
        surface.text(place, room, size=9, lines=2)
        if piece.cover_length is not None:
            cover = Box(text.x, place.bottom, text.width, text.height * shares[2])
            alone = len(self.gang.bars) == 1
            length = (
                self.book.lengths.both(piece.cover_length)
                if alone
                else self.book.lengths.first(piece.cover_length)
            )
            words = f"cover comes to {length}" if alone else f"cover {length}"
            surface.text(cover, words, size=8)
        _tick(surface, cell, _TICK)

    def _tail(self, surface: Surface, box: Box) -> None:
        bar, lengths = self.gang.model, self.book.lengths
        number, stop, face, first = _columns(box)
        if not self._ends:
            words = f"the bar goes on: cut {self.last + 1} follows on the next page"
            surface.text(box.inset(1.5, 0), words, size=12, face=Face.BOLD)
            return
        surface.text(number.inset(0.8, 0), "tail", size=10, face=Face.BOLD, align=Align.CENTRE)
        fate = Box(face.x + 1, box.y, first.right - face.x - 2, box.height)
        if bar.fate is TailFate.NONE:
            words = "none: nothing is left" if not bar.sliver else "none: the blade takes the rest"
            surface.text(Box(stop.x + 1.5, box.y, first.right - stop.x - 3, box.height), words, size=10)
            return
        expected = Box(stop.x + 1.5, box.y + 1.2, stop.width - 3, box.height - 2.4)
        _two(surface, expected, f"expect {lengths.first(bar.tail)}", lengths.second(bar.tail), 13, 9)
        kept = bar.fate is TailFate.OFFCUT
        words = "KEEP: measure, label, rack" if kept else "SCRAP, measure first"
        surface.text(fate, words, size=10.5, face=Face.BOLD, lines=2)
        for each, cell in zip(self.gang.bars, self._columns(box), strict=True):
            self._measured(surface, cell, each)

    def _measured(self, surface: Surface, cell: Box, bar: PlannedBar) -> None:
        wide = len(self.gang.bars) == 1
        tag = Box(cell.x + 1.3, cell.y + 0.8, cell.width * 0.5 if wide else cell.width - 2.6, 4.2)
        if wide:
            tag = Box(tag.x, cell.y + 1, tag.width, cell.height - 2)
        if bar.tail_tag:
            surface.text(tag, bar.tail_tag, size=13, face=Face.CODE, lines=2)
        width = min(cell.width - 2.4, 38.0)
        top = cell.y + (1.6 if wide else 5.2)
        field = Box(cell.right - width - 1.2, top, width, cell.bottom - 1.4 - top)
        surface.frame(field, stroke=0.8)
        surface.text(Box(field.x + 0.8, field.y + 0.3, field.width - 1.6, 2.8), "measured", size=6.5)

    def _columns(self, box: Box) -> tuple[Box, ...]:
        """Give the bars' own columns in a row of the table."""
        left = box.x + _ORDER + _STOP + _FACE + _FIRST
        width = (box.right - left) / len(self.gang.bars)
        return tuple(Box(left + i * width, box.y, width, box.height) for i in range(len(self.gang.bars)))


def cut_blocks(gang: Gang, book: Book, room: float) -> tuple[CutBlock, ...]:
    """
    Give the block of a gang; several only when its cuts do not fit a page of ``room`` millimetres.

    Every part repeats the title, the picture and the warnings.
    """
    count = len(gang.model.cuts)
    whole = CutBlock(gang, book, 1, count)
    if whole.height <= room:
        return (whole,)
    row = _ROW_WITH_COVER if gang.group.cover_follows else _ROW
    # One more warning says that the bar goes on.
    most = max(1, int((room - (whole.height + _WARNING - count * row)) // row))
    return tuple(CutBlock(gang, book, at, min(at + most - 1, count)) for at in range(1, count + 1, most))


def _columns(box: Box) -> tuple[Box, Box, Box, Box]:
    """Give the four columns that all bars of the block share."""
    x = box.x
    cells = []
    for width in (_ORDER, _STOP, _FACE, _FIRST):
        cells.append(Box(x, box.y, width, box.height))
        x += width
    return cells[0], cells[1], cells[2], cells[3]


def _two(surface: Surface, box: Box, first: str, second: str, size: float, small: float) -> None:
    """Print a length in the shop's unit and below it in the other."""
    upper = Box(box.x, box.y, box.width, box.height * size / (size + small))
    lower = Box(box.x, upper.bottom, box.width, box.bottom - upper.bottom)
    surface.text(upper, first, size=size, face=Face.BOLD)
    surface.text(lower, second, size=small)


def _tick(surface: Surface, cell: Box, side: float) -> None:
    """Draw an empty box at the right of a cell."""
    box = Box(cell.right - side - 1.4, cell.y + (cell.height - side) / 2, side, side)
    surface.frame(box, stroke=1.1, fill=1)
