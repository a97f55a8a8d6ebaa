"""The cut list: one block a bar with its picture, its cuts in saw order and its tail, for the saw."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar, TailFate
from nesting.reports.tables import part_words
from nesting.reports.whereabouts import pieces_by_id, room_words, source_words
from nesting.sheets.plan_bar_band import BAND_HEIGHT, GRID, GRID_PIXELS, write_band
from nesting.sheets.plan_book import RULE, SHADE, Book
from nesting.units import Length, inch_text, mm_text

# Headings, how many narrow columns each takes (together the whole grid), and where its text stands.
FIELDS = (
    ("cut", 6, "center"),
    ("stop (mm)", 16, "right"),
    ("stop (inch)", 16, "right"),
    ("far face at (mm)", 14, "right"),
    ("piece", 20, "left"),
    ("job", 11, "left"),
    ("unit / room / place", 19, "left"),
    ("cover (mm)", 12, "right"),
    ("done", 6, "center"),
)
GUIDE = (
    "Picture: thick upright line = saw stroke, solid = head trim, dashed edge = offcut to keep, slashes = "
    "scrap. Far face: from the first clean face. ~ = nearest 1/64 in, set the mm."
)
_MANY_DECIMALS = 4
_TITLE, _CUT, _TAIL, _CAUTION, _GAP, _GROUP = 21.0, 18.0, 20.0, 17.0, 9.0, 34.0
# A4 landscape less margins, in points, over the print scale, less the repeated rows and a little slack.
_SCALE = 0.86
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
    book.band(sheet, 1, 0, GRID - 1, GUIDE, font_size=9, italic=True)
    _write_fields(book, sheet, 2)
    for row, height in enumerate((24.0, 16.0, 18.0)):
        sheet.set_row(row, height)
    sheet.freeze_panes(3, 0)
    sheet.repeat_rows(0, 2)
    sheet.center_horizontally()
    sheet.set_print_scale(round(_SCALE * 100))

    pieces = pieces_by_id(plan)
    pen = _Pen(row=3, used=0.0, breaks=[])
    for group in plan.groups:
        longest = max((bar.length for bar in group.bars), default=0)
        for index, bar in enumerate(group.bars):
            # The heading of a material stays with its first bar.
            pen.reserve(_block_height(bar) + (0.0 if index else _GROUP))
            if not index:
                _write_group(book, sheet, pen.row, group)
                pen.row += 1
            pen.row = _write_bar(book, sheet, pen.row, plan, group, bar, pieces, longest)
    if pen.row == 3:
        book.band(sheet, 3, 0, GRID - 1, "Nothing to cut.")
    sheet.set_h_pagebreaks(pen.breaks)
    sheet.print_area(0, 0, max(pen.row - 1, 3), GRID - 1)


def _block_height(bar: PlannedBar) -> float:
    return _TITLE + BAND_HEIGHT + _CUT * len(bar.cuts) + _TAIL + _CAUTION * len(_cautions(bar)) + _GAP


def _write_fields(book: Book, sheet: Any, row: int) -> None:
    column = 0
    for heading, width, align in FIELDS:
        look = {
            "bold": True,
            "bg_color": SHADE,
            "top": 1,
            "bottom": 2,
            "align": align,
            "indent": int(align != "center"),
        }
        book.band(sheet, row, column, column + width - 1, heading, **look)
        column += width


def _write_group(book: Book, sheet: Any, row: int, group: GroupPlan) -> None:
    saw = group.saw
    rules = (
        f"under the blade: {part_words(group)}\n"
        f"kerf {mm_text(saw.kerf)} mm, head trim {mm_text(saw.head_trim)} mm, "
        f"tail loss {mm_text(saw.tail_loss)} mm, keep tails from {mm_text(saw.keep_length)} mm"
    )
    book.band(sheet, row, 0, 49, str(group.material), bold=True, font_size=14, bottom=5)
    book.band(sheet, row, 50, GRID - 1, rules, align="right", bottom=5, font_size=9, text_wrap=True)
    sheet.set_row(row, _GROUP)


def _write_bar(
    book: Book,
    sheet: Any,
    row: int,
    plan: Plan,
    group: GroupPlan,
    bar: PlannedBar,
    pieces: dict[str, Piece],
    longest: int,
) -> int:
    look: dict[str, Any] = {"bold": True, "font_size": 12, "top": 1}
    count = f"{_counted(len(bar.cuts), 'piece')}, {_counted(bar.strokes, 'stroke')}"
    book.band(sheet, row, 0, 19, f"Bar {bar.number}", **(look | {"font_size": 14}))
    book.band(sheet, row, 20, 73, _upper_offcut(source_words(plan, bar)), **look)
    book.band(sheet, row, 74, 119, f"{group.material}   {count}", align="right", top=1, font_size=9)
    sheet.set_row(row, _TITLE)
    write_band(book, sheet, row + 1, bar, longest)
    row += 2
    for order, cut in enumerate(bar.cuts, start=1):
        _write_cut(book, sheet, row, order, cut, pieces[cut.piece])
        row += 1
    _write_tail(book, sheet, row, bar)
    row += 1
    for caution in _cautions(bar):
        book.band(sheet, row, 0, GRID - 1, caution, bold=True, border=1, bg_color=SHADE)
        sheet.set_row(row, _CAUTION)
        row += 1
    sheet.set_row(row, _GAP)
    return row + 1


def _write_cut(book: Book, sheet: Any, row: int, order: int, cut: Cut, piece: Piece) -> None:
    rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
    right = rule | {"align": "right", "indent": 1}
    spans = []
    column = 0
    for _, width, _ in FIELDS:
        spans.append((column, column + width - 1))
        column += width
    order_at, stop_at, inch_at, face_at, piece_at, job_at, place_at, cover_at, done_at = spans
    said = f"{order}" if cut.held else f"{order} !"
    book.band(sheet, row, *order_at, said, align="center", bold=True, **rule)
    by_mm, by_inch = _stop_looks(cut.length)
    book.band_millimetres(sheet, row, *stop_at, cut.length, unit="mm", **(right | by_mm))
    book.band(sheet, row, *inch_at, f"{inch_text(cut.length)} in", **(right | by_inch))
    book.band_millimetres(sheet, row, *face_at, cut.face, **right)
    book.band(sheet, row, *piece_at, piece.id, bold=True, indent=1, **rule)
    book.band(sheet, row, *job_at, piece.job, indent=1, **(rule | _type_for(piece.job, 12)))
    place = room_words(piece.place)
    book.band(sheet, row, *place_at, place, indent=1, **(rule | _type_for(place, 24)))
    if piece.cover_length is None:
        book.band(sheet, row, *cover_at, "", **rule)
    else:
        book.band_millimetres(sheet, row, *cover_at, piece.cover_length, **right)
    book.band(sheet, row, *done_at, "", border=1)
    sheet.set_row(row, _CUT)


def _stop_looks(length: Length) -> tuple[dict[str, Any], dict[str, Any]]:
    """Give the types of the stop in mm and inch: the one a tape can be set to is large."""
    large = {"bold": True, "font_size": 14}
    decimals = len(mm_text(length).partition(".")[2])
    if decimals > 1 and not inch_text(length).startswith("~"):
        return {"font_size": 9}, large
    # A number that does not fit its cell shows as crosses, so a long one is set smaller.
    return large | {"font_size": 14 if decimals < _MANY_DECIMALS else 9}, {"font_size": 12}


def _type_for(said: str, fits: int) -> dict[str, Any]:
    """Set a text longer than its field smaller, and a much longer one on two small lines."""
    if len(said) <= fits:
        return {"font_size": 10}
    return {"font_size": 8} if len(said) * 4 <= fits * 5 else {"font_size": 7, "text_wrap": True}


def _write_tail(book: Book, sheet: Any, row: int, bar: PlannedBar) -> None:
    if bar.fate is TailFate.OFFCUT:
        said = f"KEEP as offcut, print tag {bar.tail_tag}" if bar.tail_tag else "KEEP as offcut"
    elif bar.fate is TailFate.SCRAP:
        said = "scrap"
    else:
        said = "nothing is left"
    length = f"{mm_text(bar.tail)} mm ({inch_text(bar.tail)} in): " if bar.tail else ""
    book.band(sheet, row, 0, 77, f"Tail expected: {length}{said}", bold=bar.fate is TailFate.OFFCUT)
    book.band(sheet, row, 78, 94, "measured (mm)", align="right")
    book.band(sheet, row, 95, 106, "", border=1)
    book.band(sheet, row, 107, 113, "bar done", align="right", font_size=8)
    book.band(sheet, row, 114, 119, "", border=2)
    sheet.set_row(row, _TAIL)


def _cautions(bar: PlannedBar) -> tuple[str, ...]:
    unheld = [str(order) for order, cut in enumerate(bar.cuts, start=1) if not cut.held]
    said = []
    if unheld:
        said.append(
            f"CAUTION cut {', '.join(unheld)}: piece and rest are too short to hold. Clamp in a shaped "
            "block, never by hand."
        )
    if bar.sliver:
        said.append(
            "CAUTION last stroke: less than a kerf of metal is left, the blade is half in air. Feed slowly."
        )
    return tuple(said)


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _upper_offcut(said: str) -> str:
    return said.replace("offcut", "OFFCUT", 1)
