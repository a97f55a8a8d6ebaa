"""The first page: the answer in words, where the metal goes, what was assumed, what to mind."""

from __future__ import annotations

from typing import Any

from nesting.domain.plan import Plan
from nesting.reports.answer import answer, unplaced_words
from nesting.reports.cautions import plan_cautions, standing_cautions
from nesting.reports.tables import WASTE_WORDS, account_rows, allowances, assumption_rows
from nesting.sheets.plan_book import RULE, SHADE, Book, rows_needed
from nesting.sheets.plan_pieces import VIEW_RULE
from nesting.units import inch_text

_WIDTHS = (30, 7, 13, 13, 11, 11, 13, 12, 9, 9)
_LAST = len(_WIDTHS) - 1
# Characters of the normal type that fit a line over all columns, with room for wide letters.
_LINE = sum(_WIDTHS)


def write_summary(book: Book, plan: Plan) -> None:
    """Write the first sheet; its first lines are the answer."""
    sheet = book.sheet("Summary")
    for column, width in enumerate(_WIDTHS):
        sheet.set_column(column, column, width)
    sheet.fit_to_pages(1, 0)
    book.band(sheet, 0, 0, _LAST, plan.request.title or "Plan", bold=True, font_size=18)
    sheet.set_row(0, 30)
    known = f"plan {plan.id}   seed {plan.seed}   {len(plan.pieces)} pieces   {plan.totals.bars} bars"
    book.band(sheet, 1, 0, _LAST, known, bottom=5)
    sheet.set_row(1, 18)
    row = 2
    for sentence in answer(plan):
        loud = bool(plan.unplaced) and sentence == unplaced_words(plan)
        look: dict[str, Any] = {"bold": True, "border": 5, "font_size": 14} if loud else {"font_size": 12}
        row = _paragraph(book, sheet, row, sentence, larger=1.3 if loud else 1.15, **look)
    if not plan.unplaced and plan.pieces:
        row = _paragraph(book, sheet, row, unplaced_words(plan), larger=1.15, font_size=12)
    row = _write_metal(book, sheet, row + 1, plan)
    row = _write_assumptions(book, sheet, row + 1, plan)
    row = _heading(book, sheet, row + 1, "Mind")
    for caution in (*plan_cautions(plan), VIEW_RULE, *standing_cautions(plan)):
        row = _paragraph(book, sheet, row, caution)


def _write_metal(book: Book, sheet: Any, row: int, plan: Plan) -> int:
    row = _heading(book, sheet, row, "Where the metal goes (mm)")
    head: dict[str, Any] = {"bold": True, "bg_color": SHADE, "bottom": 1}
    names = ("material", "bars", *(word for word, _ in WASTE_WORDS))
    for column, name in enumerate(names):
        book.text(sheet, row, column, name, align="right" if column else "left", **head)
    row += 1
    for account in account_rows(plan):
        totals = account.totals
        look: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
        if account.name == "all":
            look = {"bold": True, "top": 2, "bottom": 2}
        book.text(sheet, row, 0, account.name, **look, shrink=True)
        book.number(sheet, row, 1, totals.bars, **look)
        lengths = (totals.used, totals.good, totals.kerf, totals.trim, totals.returned, totals.scrap)
        for column, length in enumerate(lengths, start=2):
            book.millimetres(sheet, row, column, length, **look)
        for column, share in enumerate((totals.yield_share, totals.waste_share), start=8):
            book.number(sheet, row, column, share, num_format="0.0%", **look)
        row += 1
    said = "; ".join(f"{word} = {meaning}" for word, meaning in WASTE_WORDS)
    return _paragraph(
        book,
        sheet,
        row,
        f"{said}; used = good + kerf + trim + returned + scrap, to the nanometre.",
        italic=True,
    )


def _write_assumptions(book: Book, sheet: Any, row: int, plan: Plan) -> int:
    row = _heading(book, sheet, row, "Assumed")
    head: dict[str, Any] = {"bold": True, "bg_color": SHADE, "bottom": 1}
    for name, saw in assumption_rows(plan):
        book.band(sheet, row, 0, 1, name, **head)
        for column, unit in ((2, "mm"), (3, "inch")):
            book.text(sheet, row, column, unit, align="right", **head)
        book.band(sheet, row, 4, _LAST, "meaning", indent=1, **head)
        row += 1
        for allowance, meaning, length in allowances(saw):
            rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
            book.band(sheet, row, 0, 1, allowance, **rule)
            book.millimetres(sheet, row, 2, length, **rule)
            book.text(sheet, row, 3, inch_text(length), align="right", **rule)
            book.band(sheet, row, 4, _LAST, meaning, indent=1, **rule)
            row += 1
    return _paragraph(
        book, sheet, row, "Bars are planned at their nominal length; over-measure is never used."
    )


def _heading(book: Book, sheet: Any, row: int, said: str) -> int:
    book.band(sheet, row, 0, _LAST, said, bold=True, font_size=12)
    sheet.set_row(row, 20)
    return row + 1


def _paragraph(book: Book, sheet: Any, row: int, said: str, *, larger: float = 1.0, **look: Any) -> int:
    # Merged cells never grow by themselves, so the height is set from the estimated lines.
    lines = rows_needed(said, round(_LINE / larger))
    book.band(sheet, row, 0, _LAST, said, text_wrap=True, **({"valign": "vcenter"} | look))
    sheet.set_row(row, 4.0 + 13.5 * larger * lines)
    return row + 1
