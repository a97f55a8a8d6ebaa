"""One plain list on a sheet: title, a word of guidance, headings that repeat, rows that can be filtered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from nesting.sheets.plan_book import RULE, SHADE, Book, rows_needed
from nesting.units import NM_PER_MM, inch_text

Value = str | int | float | None
TITLE_ROW, GUIDE_ROW, HEADING_ROW = 0, 1, 2
FIRST_ROW = HEADING_ROW + 1


class Kind(StrEnum):
    """What a column holds; lengths come in nanometres, money in ten-thousandths, shares as fractions."""

    TEXT = "text"
    COUNT = "count"
    MM = "mm"
    INCH = "inch"
    METRE = "metre"
    MONEY = "money"
    SHARE = "share"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: heading with its unit, width in characters, kind of value."""

    heading: str
    width: float
    kind: Kind = Kind.TEXT


def write_list(
    book: Book,
    name: str,
    title: str,
    guide: str,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Value]],
    *,
    nothing: str = "",
    landscape: bool = True,
    small: bool = False,
) -> Any:
    """
    Write a list as a sheet of its own and give the sheet.

    Parameters
    ----------
    guide
        One sentence under the title.
    rows
        Values by column; None leaves a cell empty.
    nothing
        What to say when there are no rows.
    small
        Whether the rows are low and set in small type, for lists of hundreds.
    """
    sheet = book.sheet(name, landscape=landscape)
    book.text(sheet, TITLE_ROW, 0, title, bold=True, font_size=14)
    sheet.set_row(TITLE_ROW, 24)
    book.text(sheet, GUIDE_ROW, 0, guide, italic=True)
    sheet.set_row(GUIDE_ROW, 18)
    write_headings(book, sheet, HEADING_ROW, columns)
    for offset, values in enumerate(rows):
        lines = 1
        for position, (column, value) in enumerate(zip(columns, values, strict=True)):
            needed = (
                rows_needed(value, round(column.width * (1.15 if small else 1.0)) - 2)
                if isinstance(value, str)
                else 1
            )
            look: dict[str, Any] = {"text_wrap": True} if needed > 1 else {}
            look |= {"font_size": 9} if small else {}
            write_value(book, sheet, FIRST_ROW + offset, position, column.kind, value, **look)
            lines = max(lines, needed)
        # Not every program lets rows grow with their text when a file is opened.
        sheet.set_row(FIRST_ROW + offset, (0.5 if small else 2.0) + (11.5 if small else 13.0) * lines)
    if not rows and nothing:
        book.text(sheet, FIRST_ROW, 0, nothing)
    sheet.freeze_panes(FIRST_ROW, 0)
    sheet.repeat_rows(TITLE_ROW, HEADING_ROW)
    sheet.fit_to_pages(1, 0)
    if rows:
        sheet.autofilter(HEADING_ROW, 0, HEADING_ROW + len(rows), len(columns) - 1)
    return sheet


def write_headings(book: Book, sheet: Any, row: int, columns: Sequence[Column]) -> None:
    """Write the headings of a list and set the columns' widths."""
    for position, column in enumerate(columns):
        align = "left" if column.kind is Kind.TEXT else "right"
        sheet.set_column(position, position, column.width)
        book.text(
            sheet,
            row,
            position,
            column.heading,
            bold=True,
            bg_color=SHADE,
            bottom=2,
            text_wrap=True,
            align=align,
            indent=1 if position and align == "left" else 0,
        )
    sheet.set_row(row, 30)


def write_value(book: Book, sheet: Any, row: int, column: int, kind: Kind, value: Value, **look: Any) -> None:
    """Write one value of a list as its column's kind asks."""
    look = dict[str, Any](bottom=1, bottom_color=RULE, valign="top") | look
    if value is None:
        book.text(sheet, row, column, "", **look)
    elif isinstance(value, str):
        if column:
            look = {"align": "left", "indent": 1} | look  # keeps texts off the numbers before them
        book.text(sheet, row, column, value, **look)
    elif kind is Kind.MM:
        book.millimetres(sheet, row, column, int(value), **look)
    elif kind is Kind.INCH:
        book.text(sheet, row, column, inch_text(int(value)), align="right", **look)
    elif kind is Kind.METRE:
        book.number(sheet, row, column, value / (1000 * NM_PER_MM), num_format="0.000", **look)
    elif kind is Kind.MONEY:
        book.money(sheet, row, column, int(value), **look)
    elif kind is Kind.SHARE:
        book.number(sheet, row, column, value, num_format="0.0%", **look)
    else:
        book.number(sheet, row, column, value, **look)
