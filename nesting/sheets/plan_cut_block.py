"""The block of a bar, or of bars cut alike: picture, cuts in saw order, tail, and every bar's own pieces."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from nesting.domain.plan import TailFate
from nesting.reports.cover_words import offset_words
from nesting.reports.gangs import Gang
from nesting.reports.slope_words import slope_notes
from nesting.reports.unverified import cuts_warning, unverified_cuts
from nesting.reports.whereabouts import numbers_words, source_words
from nesting.sheets.plan_bar_band import BAND_HEIGHT, GRID, write_band
from nesting.sheets.plan_bar_lines import bar_lines, lines_height, write_bar_lines
from nesting.sheets.plan_book import SHADE, rows_needed
from nesting.sheets.plan_cut_row import CutPaper, cut_height, write_cut, write_shared_cut

_TITLE, _CUT, _TAIL, _CAUTION, _GAP, _NOTE = 21.0, 18.0, 20.0, 17.0, 9.0, 13.0
# Characters of the note's type that fit a line over the whole grid.
_NOTE_LINE = 190

Write = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class CutBlock:
    """
    Rows that are printed together.

    Parameters
    ----------
    longest
        Length that fills the pictures' whole width, nanometres.
    """

    paper: CutPaper
    gang: Gang
    longest: int

    @property
    def height(self) -> float:
        """Height in points, the gap below included."""
        return sum(height for height, _ in self._rows())

    def write(self, row: int) -> int:
        """Write the block from a row on; gives the row after it."""
        for height, write in self._rows():
            write(row)
            self.paper.sheet.set_row(row, height)
            row += 1
        return row

    def _rows(self) -> Iterator[tuple[float, Write]]:
        bar, paper = self.gang.model, self.paper
        alone = len(self.gang.bars) == 1
        yield _TITLE, self._title
        yield BAND_HEIGHT, self._picture
        for order, cut in enumerate(bar.cuts, start=1):
            if alone:
                yield cut_height(paper, cut), partial(write_cut, paper, order=order, cut=cut)
            else:
                shared = tuple(each.cuts[order - 1] for each in self.gang.bars)
                yield _CUT, partial(write_shared_cut, paper, order=order, cuts=shared)
        yield _TAIL, self._tail
        for caution in self._cautions:
            yield _CAUTION, partial(self._caution, said=caution)
        note = offset_words(paper.plan, self.gang.group, bar, paper.pieces, paper.lengths)
        if note:
            yield 2.0 + _NOTE * rows_needed(note, _NOTE_LINE), partial(self._note, said=note)
        if not alone:
            for line in bar_lines(paper, self.gang):
                yield lines_height(line), partial(write_bar_lines, paper, line=line)
        yield _GAP, self._nothing

    @property
    def _cautions(self) -> tuple[str, ...]:
        """Give what must be minded at the block's bars, the sizes that must not be cut yet first."""
        bar = self.gang.model
        unheld = [str(order) for order, cut in enumerate(bar.cuts, start=1) if not cut.held]
        verify = cuts_warning(unverified_cuts(bar, self.paper.unverified))
        said = [verify] if verify else []
        said += slope_notes(self.gang.bars)
        if unheld:
            said.append(
                f"CAUTION cut {', '.join(unheld)}: piece and rest are too short to hold. Clamp in a shaped "
                "block, never by hand."
            )
        if bar.sliver:
            said.append(
                "CAUTION last stroke: less than a kerf of metal is left, the blade is half in air. Feed "
                "slowly."
            )
        return tuple(said)

    def _picture(self, row: int) -> None:
        paper = self.paper
        write_band(paper.book, paper.sheet, row, self.gang.model, self.longest, paper.lengths)

    def _nothing(self, row: int) -> None:
        """Leave a row empty."""

    def _title(self, row: int) -> None:
        bars, bar = self.gang.bars, self.gang.model
        book, sheet = self.paper.book, self.paper.sheet
        alone = len(bars) == 1
        look: dict[str, Any] = {"bold": True, "font_size": 12, "top": 1}
        numbers = numbers_words(tuple(one.number for one in bars))
        name = f"Bar {numbers}" if alone else f"Bars {numbers}"
        source = source_words(self.paper.plan, bar, self.paper.lengths).replace("offcut", "OFFCUT", 1)
        if not alone:
            clamp = self.paper.plan.request.goals.gang
            how = f"clamp up to {clamp} together" if clamp > 1 else "cut alike"
            source = f"{len(bars)} bars, {how}: {source} each"
        count = f"{_counted(len(bar.cuts), 'piece')}, {_counted(bar.strokes, 'stroke')}"
        count = count if alone else f"{count} each"
        book.band(sheet, row, 0, 24, name, **(look | {"font_size": 14}))
        book.band(sheet, row, 25, 78, source, **look)
        material = f"{self.gang.group.material}   {count}"
        book.band(sheet, row, 79, GRID - 1, material, align="right", top=1, font_size=9)

    def _tail(self, row: int) -> None:
        bar, book, sheet = self.gang.model, self.paper.book, self.paper.sheet
        alone = len(self.gang.bars) == 1
        if bar.fate is TailFate.OFFCUT:
            tag = f", print tag {bar.tail_tag}" if bar.tail_tag else ""
            said = f"KEEP as offcut{tag}" if alone else "KEEP as offcuts, print the tags below"
        else:
            said = "scrap" if bar.fate is TailFate.SCRAP else "nothing is left"
        both = self.paper.lengths.both(bar.tail).replace("\N{NO-BREAK SPACE}", " ")
        length = f"{both}{'' if alone else ' each'}: " if bar.tail else ""
        kept = bar.fate is TailFate.OFFCUT
        if not alone:
            book.band(sheet, row, 0, GRID - 1, f"Tail expected: {length}{said}", bold=kept)
            return
        book.band(sheet, row, 0, 77, f"Tail expected: {length}{said}", bold=kept)
        book.band(sheet, row, 78, 94, f"measured ({self.paper.lengths.name})", align="right")
        book.band(sheet, row, 95, 106, "", border=1)
        book.band(sheet, row, 107, 113, "bar done", align="right", font_size=8)
        book.band(sheet, row, 114, 119, "", border=2)

    def _caution(self, row: int, said: str) -> None:
        self.paper.book.band(self.paper.sheet, row, 0, GRID - 1, said, bold=True, border=1, bg_color=SHADE)

    def _note(self, row: int, said: str) -> None:
        self.paper.book.band(
            self.paper.sheet, row, 0, GRID - 1, said, font_size=9, italic=True, text_wrap=True
        )


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
