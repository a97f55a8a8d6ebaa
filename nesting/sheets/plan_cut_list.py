"""The cut list: bars with picture, cuts in saw order and tail, equal neighbours together, for the saw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from nesting.domain.plan import GroupPlan, Plan
from nesting.reports.gangs import Gang, gangs
from nesting.reports.tables import part_words
from nesting.reports.whereabouts import bars_to_cut, cut_already_words
from nesting.sheets.plan_bar_band import GRID, GRID_PIXELS
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_cut_block import CutBlock
from nesting.sheets.plan_cut_row import CutPaper, write_fields

GUIDE = (
    "Picture: thick upright line = saw stroke, solid = head trim, dashed edge = offcut to keep, slashes = "
    "scrap. Far face: from the first clean face. ~ = nearest 1/64 in, set the mm."
)
_GROUP = 34.0
# A4 landscape less margins, in points, over the print scale, less the repeated rows and a little slack.
_SCALE = 0.8
_REPEATED = 24.0 + 16.0 + 18.0
_PAGE = 514.0 / _SCALE - _REPEATED - 12.0


@dataclass(slots=True)
class _Pen:
    """Where the next row goes and how much of the page is used."""

    row: int
    used: float
    breaks: list[int]

    def reserve(self, height: float) -> None:
        """Begin a new page unless so much still fits on this one."""
        if self.used and self.used + height > _PAGE:
            self.breaks.append(self.row)
            self.used = 0.0
        # A block higher than a page runs on over the next ones.
        self.used = (self.used + height) % _PAGE


def write_cut_list(book: Book, plan: Plan) -> None:
    """Write the sheet; a page never ends inside the block of a bar that fits on one."""
    sheet = book.sheet("Cut list")
    sheet.set_column_pixels(0, GRID - 1, GRID_PIXELS)
    book.band(
        sheet, 0, 0, GRID - 1, f"Cut list   plan {plan.id}   {plan.request.title}", bold=True, font_size=14
    )
    cut = cut_already_words(plan)
    book.band(sheet, 1, 0, GRID - 1, f"{cut} {GUIDE}".strip(), font_size=9, italic=True, bold=bool(cut))
    paper = CutPaper.of(book, sheet, plan)
    write_fields(paper, 2)
    for row, height in enumerate((24.0, 16.0, 18.0)):
        sheet.set_row(row, height)
    sheet.freeze_panes(3, 0)
    sheet.repeat_rows(0, 2)
    sheet.center_horizontally()
    sheet.set_print_scale(round(_SCALE * 100))

    pen = _Pen(row=3, used=0.0, breaks=[])
    for whole in plan.groups:
        group = replace(whole, bars=bars_to_cut(whole))
        for index, block in enumerate(_blocks(paper, group)):
            # The heading of a material stays with its first bar.
            pen.reserve(block.height + (0.0 if index else _GROUP))
            if not index:
                _write_group(paper, pen.row, group)
                pen.row += 1
            pen.row = block.write(pen.row)
    if pen.row == 3:
        book.band(sheet, 3, 0, GRID - 1, "Nothing to cut.")
    sheet.set_h_pagebreaks(pen.breaks)
    sheet.print_area(0, 0, max(pen.row - 1, 3), GRID - 1)


def _blocks(paper: CutPaper, group: GroupPlan) -> Iterator[CutBlock]:
    """Give the blocks of a material: equal neighbours together, as many as a page holds."""
    longest = max((bar.length for bar in group.bars), default=0)
    for gang in gangs(group, max(len(group.bars), 1), paper.unverified):
        yield from _parted(CutBlock(paper, gang, longest))


def _parted(block: CutBlock) -> Iterator[CutBlock]:
    bars = block.gang.bars
    if len(bars) == 1 or block.height <= _PAGE - _GROUP:
        yield block
        return
    half = len(bars) // 2
    for part in (bars[:half], bars[half:]):
        yield from _parted(CutBlock(block.paper, Gang(block.gang.group, part), block.longest))


def _write_group(paper: CutPaper, row: int, group: GroupPlan) -> None:
    saw, said, book, sheet = group.saw, paper.lengths.said, paper.book, paper.sheet
    rules = (
        f"under the blade: {part_words(group)}\n"
        f"kerf {said(saw.kerf)}, head trim {said(saw.head_trim)}, "
        f"tail loss {said(saw.tail_loss)}, keep tails from {said(saw.keep_length)}"
    )
    book.band(sheet, row, 0, 49, str(group.material), bold=True, font_size=14, bottom=5)
    book.band(sheet, row, 50, GRID - 1, rules, align="right", bottom=5, font_size=9, text_wrap=True)
    sheet.set_row(row, _GROUP)
