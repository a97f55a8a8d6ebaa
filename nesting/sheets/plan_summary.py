"""The first page: the answer in words, where the metal goes, what was assumed, what to mind."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from nesting.domain.plan import Plan
from nesting.reports.answer import answer, loud_words, trust_words, unplaced_words
from nesting.reports.cautions import plan_cautions, standing_cautions
from nesting.reports.completion import incomplete_words, units_words
from nesting.reports.goal_words import goal_words, unit_completion_words
from nesting.reports.placed_words import placed_words, reserve_words
from nesting.reports.purchase_words import budget_words, is_over, least_order_words
from nesting.reports.tables import WASTE_WORDS, account_rows, allowances, assumption_rows, given_words
from nesting.sheets.plan_book import RULE, SHADE, Book, rows_needed
from nesting.sheets.plan_pieces import VIEW_RULE
from nesting.units import inch_text

_WIDTHS = (36, 8, 14, 14, 14, 14, 14, 13, 9, 9)
_LAST = len(_WIDTHS) - 1
# Characters of the normal type that fit a line over all columns, with room for wide letters.
_LINE = sum(_WIDTHS)
# A4 landscape less margins, in points, over the print scale, less a little slack.
_SCALE = 0.9
_PAGE = 514.0 / _SCALE - 12.0
_NORMAL, _HEADING = 15.0, 20.0


@dataclass(slots=True)
class _Pen:
    """Where the next row goes, and what of the page is used."""

    book: Book
    sheet: Any
    row: int = 0
    used: float = 0.0
    breaks: list[int] = field(default_factory=list)

    def reserve(self, height: float) -> None:
        """Begin a new page unless so much still fits on this one."""
        if self.used and self.used + height > _PAGE:
            self.breaks.append(self.row)
            self.used = 0.0

    def next(self, height: float = _NORMAL) -> None:
        """Finish a row of this height."""
        self.sheet.set_row(self.row, height)
        self.row += 1
        self.used = (self.used + height) % _PAGE

    def heading(self, said: str, below: float) -> None:
        """Write a heading that stays with so much of what follows."""
        self.reserve(_NORMAL + _HEADING + below)
        self.next()
        self.book.band(self.sheet, self.row, 0, _LAST, said, bold=True, font_size=12)
        self.next(_HEADING)

    def paragraph(self, said: str, *, larger: float = 1.0, **look: Any) -> None:
        """Write a text over all columns."""
        # Merged cells never grow by themselves, so the height is set from the estimated lines.
        height = 4.0 + 13.5 * larger * rows_needed(said, round(_LINE / larger))
        self.reserve(height)
        look = {"valign": "vcenter", "text_wrap": True} | look
        self.book.band(self.sheet, self.row, 0, _LAST, said, **look)
        self.next(height)


def write_summary(book: Book, plan: Plan) -> None:
    """Write the first sheet; its first lines are the answer."""
    sheet = book.sheet("Summary")
    for column, width in enumerate(_WIDTHS):
        sheet.set_column(column, column, width)
    # Not fitted to the width by the program: that would take the page breaks away.
    sheet.set_print_scale(round(_SCALE * 100))
    pen = _Pen(book, sheet)
    pen.paragraph(plan.request.title or "Plan", larger=1.9, bold=True, font_size=18)
    known = f"plan {plan.id}   seed {plan.seed}   {len(plan.pieces)} pieces   {plan.totals.bars} bars"
    pen.paragraph(known, bottom=5)
    _write_answer(pen, plan)
    _write_goals(pen, plan)
    _write_metal(pen, plan)
    _write_assumptions(pen, plan)
    pen.heading("Mind", 2 * _NORMAL)
    for caution in (*plan_cautions(plan), VIEW_RULE, *standing_cautions(plan)):
        pen.paragraph(caution)
    sheet.set_h_pagebreaks(pen.breaks)


def _write_answer(pen: _Pen, plan: Plan) -> None:
    loud = loud_words(plan)
    if placed := placed_words(plan):
        # Whoever orders by the sentences below alone would buy everything a second time.
        pen.paragraph(placed, larger=1.3, bold=True, border=5, font_size=14)
    for sentence in answer(plan):
        if sentence in loud:
            pen.paragraph(sentence, larger=1.3, bold=True, border=5, font_size=14)
        else:
            pen.paragraph(sentence, larger=1.15, font_size=12)
        if plan.unplaced and sentence == unplaced_words(plan):
            pen.paragraph(incomplete_words(plan), larger=1.15, font_size=12)
    budget = budget_words(plan)
    if budget and is_over(plan):
        pen.paragraph(budget, larger=1.3, bold=True, border=5, font_size=14)
    elif budget:
        pen.paragraph(budget, larger=1.15, font_size=12)
    whole = unplaced_words(plan) if not plan.unplaced and plan.pieces else ""
    others = (reserve_words(plan), least_order_words(plan), whole, units_words(plan), trust_words(plan))
    for said in filter(None, others):
        pen.paragraph(said, larger=1.15, font_size=12)


def _write_goals(pen: _Pen, plan: Plan) -> None:
    """Write what became of every second goal; nothing where none was asked for."""
    said = [f"{group.material}: {words}" for group in plan.groups for words in goal_words(plan, group)]
    if units := unit_completion_words(plan):
        said.append(units)
    if said:
        pen.heading("Second goals", 2 * _NORMAL)
    for sentence in said:
        pen.paragraph(sentence)


def _write_metal(pen: _Pen, plan: Plan) -> None:
    book, sheet = pen.book, pen.sheet
    accounts = account_rows(plan)
    heights = [2.0 + 13.0 * rows_needed(account.name, _WIDTHS[0] - 3) for account in accounts]
    said = "; ".join(f"{word} = {meaning}" for word, meaning in WASTE_WORDS)
    said += "; used = good + kerf + trim + returned + scrap, to the nanometre."
    pen.heading("Where the metal goes (mm)", _NORMAL * (1 + rows_needed(said, _LINE)) + sum(heights))
    head: dict[str, Any] = {"bold": True, "bg_color": SHADE, "bottom": 1}
    for column, name in enumerate(("material", "bars", *(word for word, _ in WASTE_WORDS))):
        book.text(sheet, pen.row, column, name, align="right" if column else "left", **head)
    pen.next()
    for account, height in zip(accounts, heights, strict=True):
        totals = account.totals
        look: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
        if account.name == "all":
            look = {"bold": True, "top": 2, "bottom": 2}
        book.text(sheet, pen.row, 0, account.name, **look, text_wrap=True)
        book.number(sheet, pen.row, 1, totals.bars, **look)
        lengths = (totals.used, totals.good, totals.kerf, totals.trim, totals.returned, totals.scrap)
        for column, length in enumerate(lengths, start=2):
            book.millimetres(sheet, pen.row, column, length, **look)
        for column, share in enumerate((totals.yield_share, totals.waste_share), start=8):
            book.number(sheet, pen.row, column, share, num_format="0.0%", **look)
        pen.next(height)
    pen.paragraph(said, italic=True)


def _write_assumptions(pen: _Pen, plan: Plan) -> None:
    book, sheet = pen.book, pen.sheet
    saws = assumption_rows(plan)
    pen.heading("Assumed", _NORMAL * (1 + sum(1 + len(allowances(saw)) for _, saw in saws)) + 4.0)
    head: dict[str, Any] = {"bold": True, "bg_color": SHADE, "bottom": 1}
    rule: dict[str, Any] = {"bottom": 1, "bottom_color": RULE}
    for name, saw in saws:
        book.band(sheet, pen.row, 0, 1, name, **head)
        for column, unit in ((2, "mm"), (3, "inch")):
            book.text(sheet, pen.row, column, unit, align="right", **head)
        book.text(sheet, pen.row, 4, "value is", indent=1, **head)
        book.band(sheet, pen.row, 5, _LAST, "meaning", indent=1, **head)
        pen.next()
        for (allowance, meaning, length), origin in zip(allowances(saw), given_words(plan, saw), strict=True):
            book.band(sheet, pen.row, 0, 1, allowance, **rule)
            book.millimetres(sheet, pen.row, 2, length, **rule)
            book.text(sheet, pen.row, 3, inch_text(length), align="right", **rule)
            book.text(sheet, pen.row, 4, origin, indent=1, **rule)
            book.band(sheet, pen.row, 5, _LAST, meaning, indent=1, **rule)
            pen.next()
    pen.paragraph("Bars are planned at their nominal length; over-measure is never used.")
