"""One row of the cut list: a stroke with its stop in both units, and where its piece goes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, Plan
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import rooms_by_piece
from nesting.reports.slope_words import lies_words, marked
from nesting.reports.unverified import MARK, unverified
from nesting.reports.whereabouts import pieces_by_id
from nesting.sheets.plan_book import RULE, SHADE, Book, rows_needed
from nesting.units import Length, inch_text

# How many narrow columns each field takes, together the whole grid.
_WIDTHS = (6, 18, 14, 14, 20, 11, 19, 12, 6)
_ROW, _SMALL_LINE = 18.0, 10.5
# Characters that one narrow column holds in the normal and in the small type, less is safer.
_NORMAL, _SMALL = 1.1, 1.6

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class CutPaper:
    """What every row of the cut list is written on and looks up."""

    book: Book
    sheet: Any
    plan: Plan
    pieces: dict[str, Piece]
    rooms: dict[str, str]
    lengths: BothUnits
    unverified: frozenset[str]

    @classmethod
    def of(cls, book: Book, sheet: Any, plan: Plan) -> CutPaper:
        """Open the cut list of a plan."""
        return cls(
            *(book, sheet, plan, pieces_by_id(plan), rooms_by_piece(plan)),
            *(BothUnits.of(plan), unverified(plan)),
        )

    def length(self, row: int, span: Span, length: Length, **look: Any) -> None:
        """Write a length in the plan's unit, named in the heading."""
        if self.lengths.metric:
            self.book.band_millimetres(self.sheet, row, *span, length, **look)
        else:
            self.book.band(self.sheet, row, *span, inch_text(length), **look)


def spans() -> tuple[Span, ...]:
    """Give first and last column of each field."""
    found, column = [], 0
    for width in _WIDTHS:
        found.append((column, column + width - 1))
        column += width
    return tuple(found)


def write_fields(paper: CutPaper, row: int) -> None:
    """Write the headings; the big stop is in the plan's unit and comes first."""
    first, second = ("mm", "inch") if paper.lengths.metric else ("inch", "mm")
    headings = (
        ("cut", "center"),
        (f"stop ({first})", "right"),
        (f"stop ({second})", "right"),
        (f"far face at ({first})", "right"),
        ("piece", "left"),
        ("job", "left"),
        ("unit / room / place", "left"),
        (f"cover ({first})", "right"),
        ("done", "center"),
    )
    for span, (heading, align) in zip(spans(), headings, strict=True):
        look: dict[str, Any] = {
            "bg_color": SHADE,
            "top": 1,
            "bottom": 2,
            "align": align,
            "indent": int(align != "center"),
        }
        paper.book.band(paper.sheet, row, *span, heading, bold=True, **look)


def cut_height(paper: CutPaper, cut: Cut) -> float:
    """Give the height of a cut's row in points; names that need several lines make it higher."""
    piece = paper.pieces[cut.piece]
    names = (_marked(paper, cut), piece.job, _place(paper, cut))
    lines = (fitted(name, b - a + 1)[1] for name, (a, b) in zip(names, spans()[4:7], strict=True))
    return max(_ROW, 2.0 + _SMALL_LINE * max(lines))


def write_cut(paper: CutPaper, row: int, order: int, cut: Cut) -> None:
    """Write the row of a cut on a bar that stands alone: stop, face, piece, where it goes, a box to tick."""
    piece = paper.pieces[cut.piece]
    rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
    *_, piece_at, job_at, place_at, cover_at, done_at = spans()
    _write_stop(paper, row, order, cut)
    loud = {"bg_color": SHADE, "border": 2} if cut.piece in paper.unverified else rule
    _name(paper, row, piece_at, _marked(paper, cut), bold=True, **loud)
    _name(paper, row, job_at, piece.job, **rule)
    _name(paper, row, place_at, _place(paper, cut), **rule)
    _write_cover(paper, row, cover_at, (piece,))
    paper.book.band(paper.sheet, row, *done_at, "", border=1)
    paper.sheet.set_row(row, cut_height(paper, cut))


def write_shared_cut(paper: CutPaper, row: int, order: int, cuts: tuple[Cut, ...]) -> None:
    """Write the row of a cut that several bars share; their pieces are listed bar by bar below."""
    pieces = tuple(paper.pieces[cut.piece] for cut in cuts)
    rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
    *_, piece_at, _, place_at, cover_at, done_at = spans()
    _write_stop(paper, row, order, cuts[0])
    verify = cuts[0].piece in paper.unverified
    # Which piece lies turned is each bar's own.
    lies = f"{lies_words(replace(cuts[0], turned=False))}: " if cuts[0].sloped else ""
    said = f"{lies}{len(cuts)} pieces, bar by bar below; their rooms are on the sheet Pieces"
    look: dict[str, Any] = {"bold": True, "bg_color": SHADE, "border": 2} if verify else rule
    paper.book.band(
        paper.sheet, row, piece_at[0], place_at[1], f"{MARK}  {said}" if verify else said, indent=1, **look
    )
    _write_cover(paper, row, cover_at, pieces)
    paper.book.band(paper.sheet, row, *done_at, "", **rule)
    paper.sheet.set_row(row, _ROW)


def fitted(said: str, columns: int) -> tuple[dict[str, Any], int]:
    """Give the type of a name and its lines: smaller where that is enough, else on several small lines."""
    if len(said) <= columns * _NORMAL:
        return {"font_size": 10}, 1
    lines = rows_needed(said, max(int(columns * _SMALL), 1))
    return {"font_size": 8} | ({"text_wrap": True} if lines > 1 else {}), lines


def _write_stop(paper: CutPaper, row: int, order: int, cut: Cut) -> None:
    rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
    right = rule | {"align": "right", "indent": 1}
    order_at, first_at, second_at, face_at, *_ = spans()
    book, sheet = paper.book, paper.sheet
    book.band(
        sheet, row, *order_at, f"{order}" if cut.held else f"{order} !", align="center", bold=True, **rule
    )
    mm_at, inch_at = (first_at, second_at) if paper.lengths.metric else (second_at, first_at)
    big = right | {"bold": True, "font_size": 14}
    by_mm = big if paper.lengths.metric else right | {"font_size": 10}
    book.band_millimetres(sheet, row, *mm_at, cut.stop, unit="mm", **by_mm)
    by_inch = right | {"font_size": 10} if paper.lengths.metric else big
    book.band(sheet, row, *inch_at, f"{inch_text(cut.stop)} in", **by_inch)
    paper.length(row, face_at, cut.face, **right)


def _write_cover(paper: CutPaper, row: int, span: Span, pieces: tuple[Piece, ...]) -> None:
    rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
    covers = {piece.cover_length for piece in pieces}
    cover = covers.pop()
    if covers:
        paper.book.band(paper.sheet, row, *span, "see Pieces", align="right", **rule)
    elif cover is None:
        paper.book.band(paper.sheet, row, *span, "", **rule)
    else:
        paper.length(row, span, cover, align="right", indent=1, **rule)


def _place(paper: CutPaper, cut: Cut) -> str:
    """Say where a piece goes, and of a mitred one first how it lies at the saw."""
    return "; ".join(part for part in (lies_words(cut), paper.rooms[cut.piece]) if part)


def _marked(paper: CutPaper, cut: Cut) -> str:
    named = marked(cut, cut.piece)
    return f"{MARK}  {named}" if cut.piece in paper.unverified else named


def _name(paper: CutPaper, row: int, span: Span, said: str, **look: Any) -> None:
    smaller, _ = fitted(said, span[1] - span[0] + 1)
    paper.book.band(paper.sheet, row, *span, said, **({"indent": 1} | look | smaller))
