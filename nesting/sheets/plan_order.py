"""What to order, with prices, sums and how good the order provably is."""

from __future__ import annotations

from typing import Any

from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.reports.answer import answer_of, material_of, materials_of, sum_words
from nesting.reports.lengths import BothUnits
from nesting.reports.placed_words import placed_words
from nesting.reports.purchase_words import (
    alternative_words,
    break_words,
    budget_words,
    is_over,
    line_note,
    margin_words,
    order_by,
    order_words,
    spares_words,
)
from nesting.reports.whereabouts import numbers_words
from nesting.sheets.plan_book import SHADE, Book, rows_needed
from nesting.sheets.plan_list import Column, Kind, Value, write_headings, write_value

_TO_ORDER, _SUM, _LAST = 11, 15, 17
# What is said besides of a plan that follows another one, between the sum and the last two columns.
_ORDERED, _MORE, _MORE_SUM = 16, 17, 18
_LINE = 190  # characters that fit a line over all columns


def write_order(book: Book, plan: Plan) -> None:
    """Write the order by material: bars, prices, sums, offcuts taken instead, the proof, the total."""
    currency = f" ({plan.request.currency})" if plan.request.currency else ""
    again = any(line.ordered for line in plan.order)
    columns: tuple[Column, ...] = (
        Column("family", 16),
        Column("finish", 12),
        Column("part", 10),
        Column("lot", 12),
        Column("bar length (mm)", 11, Kind.MM),
        Column("bar length (inch)", 13, Kind.INCH),
        Column("needed by plan", 8, Kind.COUNT),
        Column("from offcuts", 8, Kind.COUNT),
        Column("from bars on hand", 10, Kind.COUNT),
        Column("reserve", 8, Kind.COUNT),
        Column("spare, to stock", 8, Kind.COUNT),
        Column("bars in all" if again else "bars to order", 9, Kind.COUNT),
        Column(f"list price{currency}", 10, Kind.MONEY),
        Column(f"price a bar{currency}", 10, Kind.MONEY),
        Column("break reached", 13),
        Column(f"sum {'in all' if again else ''}".strip() + currency, 12, Kind.MONEY),
        Column("order by", 11),
        Column("note", 30),
    )
    if again:
        columns = (
            *columns[:_ORDERED],
            Column("ordered with plans before", 10, Kind.COUNT),
            Column("still to order", 9, Kind.COUNT),
            Column(f"sum still to order{currency}", 12, Kind.MONEY),
            *columns[_ORDERED:],
        )
    last, bold = len(columns) - 1, (4, _MORE if again else _TO_ORDER)
    sheet = book.sheet("Order")
    book.text(sheet, 0, 0, "Order", bold=True, font_size=14)
    sheet.set_row(0, 24)
    rule = "Ask for one finish lot per line; plan and order belong together."
    if again:
        book.text(sheet, 1, 0, f"{placed_words(plan)} {rule}", bold=True)
    else:
        book.text(sheet, 1, 0, rule, italic=True)
    write_headings(book, sheet, 2, columns)
    sheet.freeze_panes(3, 0)
    sheet.repeat_rows(0, 2)
    sheet.fit_to_pages(1, 0)
    row = 3
    groups = {group.material: group for group in plan.groups}
    for material in materials_of(plan):
        group = groups.get(material)
        from_rack = sum(1 for bar in group.bars if bar.offcut) if group else 0
        for line in (line for line in plan.order if material_of(line) == material):
            for position, (column, value) in enumerate(zip(columns, _values(plan, line, again), strict=True)):
                look: dict[str, Any] = {"bold": True} if position in bold else {}
                write_value(book, sheet, row, position, column.kind, value, **look)
            row += 1
        if from_rack and group:
            taken = numbers_words(tuple(bar.number for bar in group.bars if bar.offcut))
            texts = (material.family, material.finish, material.part.value, material.lot)
            blank = (None,) * (len(columns) - len(texts) - 5)
            values = (
                *texts,
                None,
                None,
                None,
                from_rack,
                *blank,
                f"bar{'s' if from_rack > 1 else ''} {taken}, see Offcuts",
            )
            for position, (column, value) in enumerate(zip(columns, values, strict=True)):
                write_value(book, sheet, row, position, column.kind, value)
            row += 1
        said = " ".join((answer_of(plan, material), *_more(plan, group))).strip()
        book.band(sheet, row, 0, last, said, italic=True, bottom=2, text_wrap=True)
        sheet.set_row(row, 6.0 + 13.5 * rows_needed(said, _LINE))
        row += 1
    if not plan.order:
        book.band(sheet, row, 0, last, "Nothing to order.")
        return
    _write_total(book, sheet, row, plan.order, last)
    over = budget_words(plan) if is_over(plan) else ""
    for said in (sum_words(plan), *order_words(plan)):
        row += 1
        book.band(sheet, row, 0, last, said, **({"bold": True} if said == over else {"italic": True}))


def _values(plan: Plan, line: OrderLine, again: bool) -> tuple[Value, ...]:
    listed = line.price if line.listed is None else line.listed
    more: tuple[Value, ...] = ()
    if again:
        more = (line.ordered, line.more, line.more_sum)
    return (
        *(line.family, line.finish, line.part, line.lot, line.length, line.length),
        *(line.needed, None, line.on_hand or None, line.reserve or None, line.spare or None, line.bars),
        *(listed, line.price, break_words(plan, line), line.sum, *more),
        *(order_by(plan, line), line_note(plan, line)),
    )


def _more(plan: Plan, group: GroupPlan | None) -> tuple[str, ...]:
    if group is None:
        return ()
    lengths = BothUnits.of(plan)
    return (
        alternative_words(group, plan.request.currency, lengths),
        margin_words(group, lengths),
        spares_words(group, lengths),
    )


def _write_total(book: Book, sheet: object, row: int, lines: tuple[OrderLine, ...], last: int) -> None:
    look: dict[str, Any] = {"bold": True, "bg_color": SHADE, "top": 2, "bottom": 2}
    for column in range(last + 1):
        book.text(sheet, row, column, "", **look)
    book.text(sheet, row, 0, "total", **look)
    book.number(sheet, row, _TO_ORDER, sum(line.bars for line in lines), **look)
    sums = [line.sum for line in lines if line.sum is not None]
    if sums:
        book.money(sheet, row, _SUM, sum(sums), **look)
    if last > _LAST:
        book.number(sheet, row, _ORDERED, sum(line.ordered for line in lines), **look)
        book.number(sheet, row, _MORE, sum(line.more for line in lines), **look)
        priced = [line.more_sum for line in lines if line.more_sum is not None]
        if priced:
            book.money(sheet, row, _MORE_SUM, sum(priced), **look)
    if len(sums) < len(lines):
        book.text(
            sheet,
            row,
            last,
            f"{len(lines) - len(sums)} line(s) without a price",
            align="left",
            indent=1,
            **look,
        )
