"""Tables with big rows: one line of a list each, a box to tick, a box to write in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

from nesting.paper.faces import LINE, POINTS_PER_MM, Face, printable
from nesting.paper.fitting import wrap
from nesting.paper.flow import NARROWEST, Block, Following, Line, Space, Stack
from nesting.paper.hatching import Box
from nesting.paper.surface import Align, Surface


class Mark(Enum):
    """What a cell holds instead of a text: a box to tick, or one to write in."""

    TICK = "tick"
    FIELD = "field"


TICK, FIELD = Mark.TICK, Mark.FIELD
# A text may shrink to this part of its type, not below the smallest, before its row grows instead.
_READABLE, _SMALLEST, _MOST_LINES = 0.8, 8.0, 8
Cell = str | Mark


@dataclass(frozen=True, slots=True)
class Column:
    """
    One column.

    Parameters
    ----------
    share
        Part of the table's width, from 0 to 1.
    lines
        Most lines a cell may wrap to.
    """

    title: str
    share: float
    size: float = 9.5
    face: Face = Face.PLAIN
    align: Align = Align.LEFT
    lines: int = 2


@dataclass(frozen=True, slots=True)
class Heading:
    """The columns' titles."""

    columns: tuple[Column, ...]
    height: float = 5.5

    def draw(self, surface: Surface, box: Box) -> None:
        """Print the titles on a grey band."""
        surface.frame(box, stroke=0, fill=0.9)
        for column, cell in zip(self.columns, _cells(self.columns, box), strict=True):
            surface.text(cell.inset(1.0, 0), column.title, size=8, align=column.align)


@dataclass(frozen=True, slots=True)
class Row:
    """
    One line.

    Parameters
    ----------
    cells
        A text, ``TICK`` or ``FIELD`` per column.
    loud
        White on black.
    """

    columns: tuple[Column, ...]
    cells: tuple[Cell, ...]
    height: float = 9.0
    loud: bool = False

    def draw(self, surface: Surface, box: Box) -> None:
        """Print the cells and a rule below."""
        if self.loud:
            surface.frame(box, stroke=0, fill=0)
        for column, cell, text in zip(self.columns, _cells(self.columns, box), self.cells, strict=True):
            if text is TICK:
                side = min(6.0, box.height - 2)
                square = Box(cell.x + 1.5, cell.y + (cell.height - side) / 2, side, side)
                surface.frame(square, stroke=1.1, fill=1)
            elif text is FIELD:
                surface.frame(cell.inset(1.0, 1.2), stroke=0.8, fill=1)
            elif isinstance(text, str):
                surface.text(
                    cell.inset(1.0, 0.5),
                    text,
                    size=column.size,
                    face=column.face,
                    align=column.align,
                    lines=column.lines,
                    white=self.loud,
                )
        surface.strokes(((box.x, box.bottom, box.right, box.bottom),), width=0.4)


@dataclass(frozen=True, slots=True)
class Title:
    """The title of a table, with air above."""

    text: str

    @property
    def height(self) -> float:
        """Height in millimetres, the air included."""
        return self._stack.height

    def draw(self, surface: Surface, box: Box) -> None:
        """Print it."""
        self._stack.draw(surface, box)

    @property
    def _stack(self) -> Stack:
        return Stack((Space(4.5), Line(self.text, 13, Face.BOLD, below=1.5)))


def rows_of(
    title: Block,
    columns: tuple[Column, ...],
    rows: Sequence[tuple[Cell, ...]],
    *,
    height: float = 7.0,
    below: Block | None = None,
) -> tuple[Block, ...]:
    """
    Give a table as blocks; its title, its headings and its first row are never parted.

    Where it goes on over a page, its headings, and its title when it has one, stand above it again.

    Parameters
    ----------
    below
        Printed under the last row and never parted from it.
    """
    if not rows:
        return ()
    headings: tuple[Block, ...] = (Heading(columns),) if any(c.title for c in columns) else ()
    again = (Title(f"{title.text}, continued"), *headings) if isinstance(title, Title) else headings
    lines: list[Block] = [row_of(columns, row, height) for row in rows]
    if below is not None:
        lines[-1] = Stack((lines[-1], below))
    first = Stack((title, *headings, lines[0]))
    return (first, *(Following(line, Stack(again)) if again else line for line in lines[1:]))


def row_of(columns: tuple[Column, ...], cells: tuple[Cell, ...], height: float, *, loud: bool = False) -> Row:
    """
    Give a row as high as its longest text needs at a type that is read without effort.

    Parameters
    ----------
    height
        Least height in millimetres.
    loud
        White on black.
    """
    grown = []
    for column, cell in zip(columns, cells, strict=True):
        lines = column.lines
        size = max(column.size * _READABLE, min(column.size, _SMALLEST))
        if isinstance(cell, str):
            shown, face = printable(cell, column.face)
            needed = len(wrap(shown, face, size, column.share * NARROWEST - 2.0))
            lines = min(max(lines, needed), _MOST_LINES)
            if needed > 1:
                height = max(height, min(needed, lines) * size * LINE / POINTS_PER_MM + 1.2)
        grown.append(column if lines == column.lines else replace(column, lines=lines))
    return Row(tuple(grown), cells, height, loud)


def _cells(columns: tuple[Column, ...], box: Box) -> tuple[Box, ...]:
    x = box.x
    cells = []
    for column in columns:
        width = column.share * box.width
        cells.append(Box(x, box.y, width, box.height))
        x += width
    return tuple(cells)
