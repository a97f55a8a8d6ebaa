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
    one_list
        Whether its first page could be taken for the whole of it: each page but the last says at its foot
        where the list goes on.
    """

    head: tuple[Block, ...]
    blocks: tuple[Block, ...]
    one_list: bool = False


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
class Following:
    """
    A block that says nothing without what stands above it, such as a row without its headings.

    Parameters
    ----------
    above
        Printed above it once more where it opens a page.
    """

    block: Block
    above: Block

    @property
    def height(self) -> float:
        """Height of the block alone."""
        return self.block.height

    def draw(self, surface: Surface, box: Box) -> None:
        """Print the block alone."""
        self.block.draw(surface, box)


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


NARROWEST = min(content_width(page) for page in PageSize)
"""The width to measure blocks for before a page is chosen."""


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
    One (section, blocks) per page. A block higher than a page stands alone on one. What stands above a block
    that follows it is repeated where the block opens a page.
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
                if isinstance(block, Following) and block.above.height + block.height <= free:
                    page.append(block.above)
                    left -= block.above.height
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
        more = section.one_list and number < len(pages) and pages[number][0] is section
        _heading(surface, name, plan_id, f"page {number} of {len(pages)}")
        _foot(surface, title, note, f"goes on: page {number + 1}" if more else "")
        _draw_down(surface, MARGIN, MARGIN + _HEADER, width, (*section.head, *blocks))
        surface.next_page()
    surface.save()
    return len(pages)


def _heading(surface: Surface, name: str, plan_id: str, count: str) -> None:
    page = surface.page
    top = Box(MARGIN, MARGIN, content_width(page), _HEADER - 3)
    third = top.width / 3
    surface.text(Box(top.x, top.y, third, top.height), name, size=15, face=Face.BOLD)
    middle = Box(top.x + third, top.y, third, top.height)
    surface.text(middle, f"plan {plan_id}", size=11, face=Face.CODE, align=Align.CENTRE)
    right = Box(top.x + 2 * third, top.y, third, top.height)
    surface.text(right, count, size=13, face=Face.BOLD, align=Align.RIGHT)
    surface.strokes(((top.x, top.bottom, top.right, top.bottom),), width=0.8)


def _foot(surface: Surface, title: str, note: str, more: str) -> None:
    """Print the sentence, the plan's title and, white on black between them, where the list goes on."""
    page = surface.page
    foot = Box(MARGIN, page.height - MARGIN - _FOOTER + 3, content_width(page), _FOOTER - 3)
    surface.strokes(((foot.x, foot.y - 0.5, foot.right, foot.y - 0.5),), width=0.8)
    share = foot.width * (0.72 if note else 0.0)
    rest = Box(foot.x + share + 3, foot.y, foot.width - share - 3, foot.height)
    if more:
        plate = Box(rest.x - 41, foot.y + 0.3, 38, foot.height - 0.6)
        surface.frame(plate, stroke=0, fill=0)
        surface.text(plate.inset(1.0, 0), more, size=11, face=Face.BOLD, align=Align.CENTRE, white=True)
        share = max(share - 41, 0.0)
    surface.text(Box(foot.x, foot.y, share, foot.height), note, size=8, face=Face.BOLD, lines=2)
    surface.text(rest, title, size=8, align=Align.RIGHT, lines=2)


def _draw_down(surface: Surface, x: float, y: float, width: float, blocks: Sequence[Block]) -> None:
    for block in blocks:
        block.draw(surface, Box(x, y, width, block.height))
        y += block.height
