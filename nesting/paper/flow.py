"""From blocks to numbered pages: blocks are never parted, and a section opens a page of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from nesting.paper.faces import LINE, POINTS_PER_MM, Face, printable
from nesting.paper.fitting import wrap
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.surface import Align, Surface

MARGIN = 10.0
_HEADER, _FOOTER = 11.0, 10.0


class Block(Protocol):
    """Something printed across the page in one go."""

    @property
    def height(self) -> float:
        """Height in millimetres."""
        ...

    def draw(self, surface: Surface, box: Box) -> None:
        """Print it into a box of its height."""
        ...


@dataclass(frozen=True, slots=True)
class Section:
    """
    Blocks that start on a new page.

    Parameters
    ----------
    head
        Printed at the top of every page of the section.
    """

    head: tuple[Block, ...]
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """Several blocks that must not be parted."""

    blocks: tuple[Block, ...]

    @property
    def height(self) -> float:
        """Sum of the heights."""
        return sum(block.height for block in self.blocks)

    def draw(self, surface: Surface, box: Box) -> None:
        """Print one below the other."""
        _draw_down(surface, box.x, box.y, box.width, self.blocks)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of text; white on black when it is a warning."""

    text: str
    size: float = 9.0
    face: Face = Face.PLAIN
    loud: bool = False
    below: float = 0.0

    @property
    def height(self) -> float:
        """Height of the line and the space below it."""
        return self.size * LINE * 1.05 / POINTS_PER_MM + self.below

    def draw(self, surface: Surface, box: Box) -> None:
        """Print it."""
        line = Box(box.x, box.y, box.width, box.height - self.below)
        if self.loud:
            surface.frame(Box(line.x, line.y - 0.1, line.width, line.height + 0.2), stroke=0, fill=0)
        text = line.inset(2.0, 0) if self.loud else line
        surface.text(text, self.text, size=self.size, face=self.face, white=self.loud)


@dataclass(frozen=True, slots=True)
class Space:
    """Empty paper."""

    height: float

    def draw(self, surface: Surface, box: Box) -> None:
        """Print nothing."""


def paragraph(
    text: str, width: float, *, size: float = 9.0, face: Face = Face.PLAIN, loud: bool = False
) -> tuple[Block, ...]:
    """Give a text as lines that may part at a page's end, ``width`` millimetres wide."""
    shown, face = printable(text, face)
    lines = wrap(shown, face, size, width - 4.5 if loud else width - 0.5)
    return tuple(
        Line(line, size, face, loud, 1.5 if number == len(lines) else 0.0)
        for number, line in enumerate(lines, start=1)
    )


def content_width(page: PageSize) -> float:
    """Give the width between the margins in millimetres."""
    return page.width - 2 * MARGIN


def content_height(page: PageSize) -> float:
    """Give the height between header and footer in millimetres."""
    return page.height - 2 * MARGIN - _HEADER - _FOOTER


def paginate(sections: Sequence[Section], room: float) -> tuple[tuple[Section, tuple[Block, ...]], ...]:
    """
    Divide sections into pages.

    Parameters
    ----------
    room
        Height of a page's content in millimetres.

    Returns
    -------
    One (section, blocks) per page. A block higher than a page stands alone on one.
    """
    pages: list[tuple[Section, tuple[Block, ...]]] = []
    for section in sections:
        free = room - sum(block.height for block in section.head)
        page: list[Block] = []
        left = free
        for block in section.blocks:
            if page and block.height > left:
                pages.append((section, tuple(page)))
                page, left = [], free
            page.append(block)
            left -= block.height
        if page:
            pages.append((section, tuple(page)))
    return tuple(pages)


def print_pages(
    path: Path, page: PageSize, sections: Sequence[Section], *, name: str, plan_id: str, title: str, note: str
) -> int:
    """
    Write a document with page x of y and the plan's id on every page.

    Parameters
    ----------
    name
        What the document is, at the top of every page.
    title
        Title of the plan, at the foot.
    note
        Sentence at the foot of every page.

    Returns
    -------
    Number of pages.
    """
    pages = paginate(sections, content_height(page))
    surface = Surface(path, page, f"{name}, plan {plan_id}")
    width = content_width(page)
    for number, (section, blocks) in enumerate(pages, start=1):
        _frame(surface, name, plan_id, f"page {number} of {len(pages)}", title, note)
        _draw_down(surface, MARGIN, MARGIN + _HEADER, width, (*section.head, *blocks))
        surface.next_page()
    surface.save()
    return len(pages)


def _frame(surface: Surface, name: str, plan_id: str, count: str, title: str, note: str) -> None:
    page = surface.page
    top = Box(MARGIN, MARGIN, content_width(page), _HEADER - 3)
    third = top.width / 3
    surface.text(Box(top.x, top.y, third, top.height), name, size=15, face=Face.BOLD)
    middle = Box(top.x + third, top.y, third, top.height)
    surface.text(middle, f"plan {plan_id}", size=11, face=Face.CODE, align=Align.CENTRE)
    right = Box(top.x + 2 * third, top.y, third, top.height)
    surface.text(right, count, size=13, face=Face.BOLD, align=Align.RIGHT)
    foot = Box(top.x, page.height - MARGIN - _FOOTER + 3, top.width, _FOOTER - 3)
    surface.strokes(
        ((top.x, top.bottom, top.right, top.bottom), (foot.x, foot.y - 0.5, foot.right, foot.y - 0.5)),
        width=0.8,
    )
    share = foot.width * (0.72 if note else 0.0)
    surface.text(Box(foot.x, foot.y, share, foot.height), note, size=8, face=Face.BOLD, lines=2)
    rest = Box(foot.x + share + 3, foot.y, foot.width - share - 3, foot.height)
    surface.text(rest, title, size=8, align=Align.RIGHT, lines=2)


def _draw_down(surface: Surface, x: float, y: float, width: float, blocks: Sequence[Block]) -> None:
    for block in blocks:
        block.draw(surface, Box(x, y, width, block.height))
        y += block.height
