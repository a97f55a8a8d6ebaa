"""The bars of a gang, each with its pieces by cut, boxes to tick, its tail's tag and its measure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from nesting.domain.plan import Cut, PlannedBar
from nesting.reports.gangs import Gang
from nesting.sheets.plan_bar_band import GRID
from nesting.sheets.plan_book import SHADE
from nesting.sheets.plan_cut_row import CutPaper, fitted

# Narrow columns that each cell takes.
_BAR, _TICK, _MEASURED, _DONE, _GAP = 8, 3, 9, 4, 2
_LEAST, _MOST = 9, 26
_HEADING, _LINE, _SMALL_LINE = 12.0, 16.0, 10.5


@dataclass(frozen=True, slots=True)
class BarCell:
    """
    One cell of a line.

    Parameters
    ----------
    box
        Whether it is an empty box to tick or to write in.
    heading
        Whether it stands above others.
    """

    first: int
    last: int
    said: str
    box: bool = False
    heading: bool = False
    bold: bool = False
    shaded: bool = False


Line = tuple[BarCell, ...]
# What a bar shows from left to right: heading, text, width, whether it is a box, bold, shaded.
_Part = tuple[str, str, int, bool, bool, bool]


def bar_lines(paper: CutPaper, gang: Gang) -> tuple[Line, ...]:
    """Give a line of headings, then every bar of the gang, several in a line where there is room."""
    widths = _widths(gang)
    shown = [_parts(paper, bar, widths) for bar in gang.bars]
    width = sum(part[2] for part in shown[0]) + _GAP
    if width - _GAP > GRID:
        return tuple(line for parts in shown for line in _flowing(parts))
    several = max(1, min((GRID + _GAP) // width, len(shown)))
    heads = tuple(cell for place in range(several) for cell in _line(shown[0], place * width, heading=True))
    lines = [heads]
    bars = iter(shown)
    while taken := tuple(islice(bars, several)):
        lines.append(tuple(c for place, parts in enumerate(taken) for c in _line(parts, place * width)))
    return tuple(lines)


def lines_height(line: Line) -> float:
    """Give the height of a line in points; long ids make it higher."""
    if all(cell.heading for cell in line):
        return _HEADING
    most = max(fitted(cell.said, cell.last - cell.first + 1)[1] for cell in line)
    return max(_LINE, 2.0 + _SMALL_LINE * most)


def write_bar_lines(paper: CutPaper, row: int, line: Line) -> None:
    """Write one line."""
    for cell in line:
        size, _ = fitted(cell.said, cell.last - cell.first + 1)
        look = {"font_size": 8, "italic": True} if cell.heading else size
        look |= {} if cell.box else {"indent": 1}
        look |= {"bold": True} if cell.bold and not cell.heading else {}
        look |= {"border": 1} if cell.box and not cell.heading else {}
        look |= {"bg_color": SHADE, "border": 2} if cell.shaded and not cell.heading else {}
        paper.book.band(paper.sheet, row, cell.first, cell.last, cell.said, **look)


def _widths(gang: Gang) -> tuple[int, ...]:
    """Give the width of each cut's ids, and last that of the tails' tags, 0 where there is none."""
    ids = [max(len(_named(bar.cuts[at])) for bar in gang.bars) for at in range(len(gang.model.cuts))]
    tags = max(len(bar.tail_tag) for bar in gang.bars)
    return (*(_room(longest) for longest in ids), _room(tags) if tags else 0)


def _named(cut: Cut) -> str:
    return f"{cut.piece} TURNED" if cut.turned else cut.piece


def _room(characters: int) -> int:
    return min(max(_LEAST, characters + 2), _MOST)


def _parts(paper: CutPaper, bar: PlannedBar, widths: tuple[int, ...]) -> tuple[_Part, ...]:
    parts: list[_Part] = [("", f"Bar {bar.number}", _BAR, False, True, False)]
    for order, (cut, width) in enumerate(zip(bar.cuts, widths, strict=False), start=1):
        verify = cut.piece in paper.unverified
        parts.append((f"cut {order}", _named(cut), width, False, True, verify))
        parts.append(("", "", _TICK, True, False, False))
    if widths[-1]:
        parts.append(("tail's tag", bar.tail_tag, widths[-1], False, True, False))
    parts.append(("tail is", "", _MEASURED, True, False, False))
    parts.append(("done", "", _DONE, True, False, False))
    return tuple(parts)


def _line(parts: tuple[_Part, ...], column: int, *, heading: bool = False) -> Iterator[BarCell]:
    for title, said, width, box, bold, shaded in parts:
        words = title if heading else said
        yield BarCell(column, column + width - 1, words, box=box, heading=heading, bold=bold, shaded=shaded)
        column += width


def _flowing(parts: tuple[_Part, ...]) -> Iterator[Line]:
    """Give the lines of a bar that has more pieces than one line holds; an id stays with its box."""
    line: list[_Part] = []
    used = 0
    for index, part in enumerate(parts):
        follows = parts[index + 1] if index + 1 < len(parts) else None
        needed = part[2] + (follows[2] if follows and follows[3] and not part[3] else 0)
        if used + needed > GRID:
            yield tuple(_line(tuple(line), 0))
            line, used = [("", "", _BAR, False, False, False)], _BAR
        line.append(part)
        used += part[2]
    yield tuple(_line(tuple(line), 0))
