"""The face of one label: what it is in big type, where it goes, and the code."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from nesting.paper.codes import code_rows
from nesting.paper.faces import Face, line_width
from nesting.paper.hatching import Box
from nesting.paper.label_grid import LabelGrid
from nesting.paper.page_size import PageSize
from nesting.paper.surface import Surface

# Office printers leave about this much of a sheet's edge white, and labels are punched as much off.
_EDGE_ACROSS, _EDGE_DOWN = 4.5, 3.5
_QUIET_MODULES = 4
_CODE_SHARE = 0.36
# A text that one line would print smaller than this many points is given height for two lines of it instead.
_READABLE, _TWO_LINES = 7.0, 7.0


@dataclass(frozen=True, slots=True)
class LabelLine:
    """
    One line of a label: its text, its share of the height, its type.

    Parameters
    ----------
    share
        Of the label's height; in all, the lines of a label come to about as much as its millimetres.
    lines
        Most lines it may wrap to; with more than one, a long text takes a larger share.
    """

    text: str
    share: float
    size: float
    face: Face = Face.PLAIN
    lines: int = 1


@dataclass(frozen=True, slots=True)
class Label:
    """
    What one label says.

    Parameters
    ----------
    beside
        Lines beside the code, from the top.
    below
        Lines over the whole width, under them.
    code
        Content of the code.
    """

    beside: tuple[LabelLine, ...]
    below: tuple[LabelLine, ...]
    code: str


def print_labels(path: Path, page: PageSize, grid: LabelGrid, labels: Sequence[Label], title: str) -> int:
    """
    Write sheets of labels.

    Returns
    -------
    Number of pages.

    Raises
    ------
    ProblemError
        When the grid does not lie on the page.
    """
    grid.check(page)
    surface = Surface(path, page, title)
    places = tuple(grid.boxes())
    pages = 0
    for first in range(0, len(labels), grid.count):
        for label, place in zip(labels[first : first + grid.count], places, strict=False):
            draw_label(surface, place, label)
        surface.next_page()
        pages += 1
    surface.save()
    return pages


def draw_label(surface: Surface, place: Box, label: Label) -> None:
    """Print one label into its place, inside a margin for the printer and the punch."""
    inner = place.inset(_EDGE_ACROSS, _EDGE_DOWN)
    beside = _grown(label.beside, inner.width * (1 - _CODE_SHARE) - 1.0)
    below = _grown(label.below, inner.width)
    upper_share = sum(line.share for line in beside)
    upper = inner.height * upper_share / (upper_share + sum(line.share for line in below))
    side = min(upper, inner.width * _CODE_SHARE)
    rows = code_rows(label.code)
    code = Box(inner.right - side, inner.y, side, side)
    text = Box(inner.x, inner.y, inner.width - side - 1.0, upper)
    if rows:
        # The quiet zone of four modules; the paper around the label gives none.
        quiet = side * _QUIET_MODULES / (len(rows) + 2 * _QUIET_MODULES)
        surface.modules(code.inset(quiet), rows)
    else:
        surface.frame(code.inset(1.0), stroke=0.6)
        surface.text(code.inset(2.0), "too long for a code: read the text", size=7, lines=4)
    _lines(surface, text, beside)
    _lines(surface, Box(inner.x, inner.y + upper, inner.width, inner.height - upper), below)


def _grown(lines: Sequence[LabelLine], width: float) -> tuple[LabelLine, ...]:
    """Give more of the height to texts too long for one line ``width`` millimetres wide."""
    return tuple(
        replace(line, share=max(line.share, _TWO_LINES))
        if line.lines > 1 and line_width(line.text, line.face, _READABLE) > width
        else line
        for line in lines
    )


def _lines(surface: Surface, box: Box, lines: Sequence[LabelLine]) -> None:
    total = sum(line.share for line in lines)
    y = box.y
    for line in lines:
        height = box.height * line.share / total
        surface.text(
            Box(box.x, y, box.width, height), line.text, size=line.size, face=line.face, lines=line.lines
        )
        y += height
