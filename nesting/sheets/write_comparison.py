"""A comparison as a workbook: a sheet and a chart for lengths, for parts of the building, for covers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any, Final

from nesting.advice.comparison import Comparison
from nesting.money import PER_UNIT
from nesting.reports.comparison_words import (
    ASSUMED,
    FRESH,
    MixRow,
    advice_words,
    cover_words,
    level_words,
    mix_rows,
)
from nesting.sheets.plan_book import INK, RULE, Book, rows_needed
from nesting.sheets.plan_list import FIRST_ROW, Column, Kind, Value, write_list

# By these a comparison is known again.
LENGTHS_TAB, LENGTHS_TITLE = "Lengths", "Which lengths to buy"
_DARK: Final = "#4A5B66"
_ROW_PIXELS: Final = 20
# Rows of a landscape page below the repeated headings, with some to spare.
_PAGE_ROWS: Final = 30


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
    sheet = write_list(book, LENGTHS_TAB, LENGTHS_TITLE, guide, columns, rows, nothing="Nothing to buy.")
    below = FIRST_ROW + max(len(rows), 1) + 1
    counted = () if unit else ("Without prices, cost counts bars.",)
    for said in (*advice_words(comparison), ASSUMED, *counted):
        book.band(sheet, below, 0, len(columns) - 1, said, text_wrap=True)
        sheet.set_row(below, 4.0 + 13.5 * rows_needed(said, 110))
        below += 1
    _chart_materials(book, sheet, mix_rows(comparison), unit, below + 1)


def _chart_materials(book: Book, sheet: Any, rows: Sequence[MixRow], unit: str, below: int) -> None:
    """
    Draw a chart for each material: what every other purchase costs more, or less, than the cheapest mix.

    One scale for all would hide the savings of a small material beside the cost of a large one. A page
    never ends inside a chart.
    """
    breaks = []
    at, used = below, _PAGE_ROWS
    first = FIRST_ROW
    for material, own in groupby(rows, key=lambda row: row.mix.material):
        count = sum(1 for _ in own)
        if count > 1:
            chart = _Chart(
                f"{material}: more (or less, -) than the cheapest mix{unit or ', bars'}",
                rows=(first, first + count - 1),
                labels=1,
                values=4,
            )
            if used + chart.height_rows > _PAGE_ROWS:
                breaks.append(at)
                used = 0
            chart.draw(book, sheet, "Lengths", at)
            at += chart.height_rows
            used += chart.height_rows
        first += count
    sheet.set_h_pagebreaks(breaks)


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
        chart = _Chart("Cost by part planned at a time", rows=(first, last), labels=0, values=3)
        chart.draw(book, sheet, "Parts", last + 3)


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
        chart = _Chart("Cover bars by way of cutting", rows=(first, last), labels=(0, 2), values=4)
        chart.draw(book, sheet, "Covers", last + 3)


@dataclass(frozen=True, slots=True)
class _Chart:
    """
    Bars in one dark grey that prints in black and white, with the values at their ends.

    Parameters
    ----------
    rows
        First and last row of the list it draws.
    labels
        Column of the names, or first and last column of names in levels.
    values
        Column of the figures.
    """

    title: str
    rows: tuple[int, int]
    labels: int | tuple[int, int]
    values: int

    @property
    def height(self) -> int:
        """Height in pixels: a bar and a gap for every row."""
        return 90 + 26 * (self.rows[1] - self.rows[0] + 1)

    @property
    def height_rows(self) -> int:
        """Rows of the sheet it covers, and one below it."""
        return -(-self.height // _ROW_PIXELS) + 1

    def draw(self, book: Book, sheet: Any, name: str, at: int) -> None:
        """Draw it from a row on."""
        first, last = self.labels if isinstance(self.labels, tuple) else (self.labels, self.labels)
        chart = book.workbook.add_chart({"type": "bar"})
        chart.add_series(
            {
                "categories": [name, self.rows[0], first, self.rows[1], last],
                "values": [name, self.rows[0], self.values, self.rows[1], self.values],
                "fill": {"color": _DARK},
                "gap": 40,
                "data_labels": {"value": True, "font": {"color": INK, "size": 9}},
            }
        )
        chart.set_title({"name": self.title, "name_font": {"size": 12, "color": INK}})
        chart.set_legend({"none": True})
        # Names stay left of all bars, also of those that run to the left.
        chart.set_y_axis({"reverse": True, "label_position": "low", "num_font": {"size": 9, "color": INK}})
        chart.set_x_axis({"major_gridlines": {"visible": True, "line": {"color": RULE}}})
        chart.set_size({"width": 760, "height": self.height})
        sheet.insert_chart(at, 0, chart, {"y_offset": 4})
