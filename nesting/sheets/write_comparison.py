"""A comparison as a workbook: a sheet and a chart for lengths, for parts of the building, for covers."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from nesting.advice.comparison import Comparison
from nesting.money import PER_UNIT
from nesting.reports.comparison_words import (
    ASSUMED,
    FRESH,
    advice_words,
    cover_words,
    level_words,
    mix_rows,
)
from nesting.sheets.plan_book import INK, RULE, Book, rows_needed
from nesting.sheets.plan_list import FIRST_ROW, Column, Kind, Value, write_list

_DARK: Final = "#4A5B66"


def write_comparison(comparison: Comparison, path: Path, *, title: str = "") -> None:
    """
    Write the comparison as an ``.xlsx`` workbook.

    Raises
    ------
    OSError
        When the file cannot be written.
    """
    book = Book(footer="comparison", title=title)
    _write_lengths(book, comparison)
    _write_parts(book, comparison)
    _write_covers(book, comparison)
    path.write_bytes(book.finish())


def _write_lengths(book: Book, comparison: Comparison) -> None:
    unit = f" ({comparison.currency})" if comparison.currency else ""
    columns = (
        Column("material", 28),
        Column("purchase", 20),
        Column("bars", 30),
        Column(f"cost{unit}", 12, Kind.MONEY),
        Column(f"against the mix{unit}", 14, Kind.MONEY),
        Column(f"assumed price{unit}", 12, Kind.MONEY),
        Column("proved least", 9),
    )
    rows = [
        (
            *(str(row.mix.material), row.name, row.bars),
            *((row.mix.cost, row.more) if row.mix.priced else (row.mix.cost * PER_UNIT, row.more * PER_UNIT)),
            *(row.mix.assumed, "yes" if row.mix.proved else "no"),
        )
        for row in mix_rows(comparison)
    ]
    guide = "Each length alone, the cheapest mix, and lengths not on the list that would save something."
    sheet = write_list(
        book, "Lengths", "Which lengths to buy", guide, columns, rows, nothing="Nothing to buy."
    )
    below = FIRST_ROW + max(len(rows), 1) + 1
    counted = () if unit else ("Without prices, cost counts bars.",)
    for said in (*advice_words(comparison), ASSUMED, *counted):
        book.band(sheet, below, 0, len(columns) - 1, said, text_wrap=True)
        sheet.set_row(below, 4.0 + 13.5 * rows_needed(said, 110))
        below += 1
    if rows:
        first, last = FIRST_ROW, FIRST_ROW + len(rows) - 1
        _chart(book, sheet, "Lengths", "Cost of each purchase", (first, last), (0, 1), 3, below + 1)


def _write_parts(book: Book, comparison: Comparison) -> None:
    unit = f" ({comparison.currency})" if comparison.currency else ""
    materials = [material for material, _ in comparison.groupings[0].costs] if comparison.groupings else []
    columns = (
        Column("planned", 26),
        Column("parts", 8, Kind.COUNT),
        Column("bars", 8, Kind.COUNT),
        Column(f"cost{unit}", 12, Kind.MONEY),
        *(Column(f"{material}{unit}", 14, Kind.MONEY) for material in materials),
    )
    factor = 1 if any(mix.priced for mix in comparison.mixes) else PER_UNIT
    rows: list[tuple[Value, ...]] = [
        (
            *(level_words(grouping), grouping.parts, grouping.bars, grouping.cost * factor),
            *(dict(grouping.costs).get(material, 0) * factor for material in materials),
        )
        for grouping in comparison.groupings
    ]
    sheet = write_list(
        book,
        "Parts",
        "Ordered and cut together, or in parts",
        FRESH,
        columns,
        rows,
        nothing="Nothing to plan.",
    )
    if len(rows) > 1:
        first, last = FIRST_ROW, FIRST_ROW + len(rows) - 1
        _chart(
            book,
            sheet,
            "Parts",
            "Cost by part planned at a time",
            (first, last),
            (0, 0),
            3,
            last + 3,
        )


def _write_covers(book: Book, comparison: Comparison) -> None:
    unit = f" ({comparison.currency})" if comparison.currency else ""
    columns = (
        Column("family", 18),
        Column("finish", 14),
        Column("covers cut", 20),
        Column("channel bars", 10, Kind.COUNT),
        Column("cover bars", 10, Kind.COUNT),
        Column(f"cost{unit}", 12, Kind.MONEY),
    )
    rows = [
        (
            *(choice.family, choice.finish, cover_words(choice), choice.channels, choice.covers),
            choice.cost if choice.priced else choice.cost * PER_UNIT,
        )
        for choice in comparison.covers
    ]
    sheet = write_list(
        book,
        "Covers",
        "How to cut covers",
        "Only families whose cover bars are sold apart.",
        columns,
        rows,
        nothing="No cover bars are sold apart.",
    )
    if rows:
        first, last = FIRST_ROW, FIRST_ROW + len(rows) - 1
        _chart(
            book,
            sheet,
            "Covers",
            "Cover bars by way of cutting",
            (first, last),
            (0, 2),
            4,
            last + 3,
        )


def _chart(
    book: Book,
    sheet: Any,
    name: str,
    title: str,
    rows: tuple[int, int],
    labels: tuple[int, int],
    values: int,
    row: int,
) -> None:
    """Draw bars in one dark grey that prints in black and white, with the values at their ends."""
    chart = book.workbook.add_chart({"type": "bar"})
    chart.add_series(
        {
            "categories": [name, rows[0], labels[0], rows[1], labels[1]],
            "values": [name, rows[0], values, rows[1], values],
            "fill": {"color": _DARK},
            "gap": 40,
            "data_labels": {"value": True, "font": {"color": INK, "size": 9}},
        }
    )
    chart.set_title({"name": title, "name_font": {"size": 12, "color": INK}})
    chart.set_legend({"none": True})
    chart.set_y_axis({"reverse": True, "num_font": {"size": 9, "color": INK}})
    chart.set_x_axis({"major_gridlines": {"visible": True, "line": {"color": RULE}}, "min": 0})
    chart.set_size({"width": 760, "height": 90 + 26 * (rows[1] - rows[0] + 1)})
    sheet.insert_chart(row, 0, chart)
