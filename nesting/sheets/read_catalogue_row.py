"""One row of a catalogue sheet, read field by field; whatever fails leaves a finding at its cell."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from nesting.errors import MoneyNotUnderstood, ProblemError
from nesting.money import Money
from nesting.sheets.cells import Cell, Row
from nesting.sheets.columns import is_per_length, match_heading
from nesting.sheets.findings import Findings
from nesting.sheets.read_goals import due_of
from nesting.sheets.read_header import Table, same_heading
from nesting.sheets.read_price import PriceAmbiguous, read_price
from nesting.sheets.read_values import (
    Choice,
    choice_of,
    length_of,
    money_of,
    number_of,
    pitch_of,
    text_of,
    unit_of,
    yes_no_of,
)
from nesting.units import NO_LENGTH, Length, Unit

Value = TypeVar("Value")

_NONE = ("none", "no", "-")


@dataclass(frozen=True, slots=True)
class CatalogueRow:
    """Reads the cells of one row by field; whatever fails leaves a finding."""

    table: Table
    row: Row
    findings: Findings
    default_unit: Unit | None

    def cell(self, name: str) -> Cell:
        """Give a field's cell, an empty one where the sheet has no such column."""
        return self.row.cell(self.table.columns.get(name, 0))

    def text(self, name: str) -> str:
        """Give a text, empty when blank."""
        cell = self.cell(name)
        return text_of(cell, self.table.sheet.where(cell), self.findings)

    def unit(self, name: str) -> Unit | None:
        """Give the unit of a bare length in a column."""
        return unit_of(self.cell("length_unit").text) or self.table.unit(name) or self.default_unit

    def length(self, name: str) -> Length | None:
        """Give a length that a row cannot do without."""
        cell = self.cell(name)
        where = self.table.sheet.where(cell)
        if not cell.filled:
            self.findings.error(
                "length-missing",
                self.table.sheet.where(self._first),
                self.row.raw,
                "Type the length with its unit.",
            )
            return None
        reading = length_of(cell, self.unit(name), where, self.findings)
        return reading.length if reading else None

    def allowance(self, name: str) -> Length:
        """Give an allowance; blank counts as none."""
        cell = self.cell(name)
        where = self.table.sheet.where(cell)
        if not cell.filled:
            return NO_LENGTH
        reading = length_of(cell, self.unit(name), where, self.findings, may_be_zero=True)
        return reading.length if reading else NO_LENGTH

    def maybe_length(self, name: str) -> Length | None:
        """Give a length from a data sheet; blank means that it is not known."""
        cell = self.cell(name)
        if not cell.filled or cell.text.lower() in _NONE:
            return None
        reading = length_of(cell, self.unit(name), self.table.sheet.where(cell), self.findings)
        return reading.length if reading else None

    def number(self, name: str) -> Fraction | None:
        """Give a plain number; blank means that it is not known."""
        cell = self.cell(name)
        if not cell.filled or cell.text.lower() in _NONE:
            return None
        return number_of(cell, self.table.heading(name).lower(), self.table.sheet.where(cell), self.findings)

    def whole(self, name: str) -> int:
        """Give a count; blank counts as none."""
        found = self.number(name)
        if found is not None and found.denominator != 1:
            cell = self.cell(name)
            self.findings.error(
                "not-a-whole-number", self.table.sheet.where(cell), cell.raw, "A whole number is expected."
            )
        return int(found or 0)

    def yes_no(self, name: str) -> bool | None:
        """Give an answer; blank means that the family's default holds."""
        cell = self.cell(name)
        if not cell.filled:
            return None
        return yes_no_of(cell, self.table.heading(name).lower(), self.table.sheet.where(cell), self.findings)

    def pitch(self, name: str) -> Fraction | None:
        """Give the distance of the cut marks; blank means that there is no strip."""
        cell = self.cell(name)
        if not cell.filled or cell.text.lower() in _NONE:
            return None
        return pitch_of(cell, self.unit(name), self.table.sheet.where(cell), self.findings)

    def choice(self, name: str, names: Mapping[str, Choice], default: Choice, what: str) -> Choice:
        """Give the meaning of a word, the default where the cell is blank or not understood."""
        cell = self.cell(name)
        if not cell.filled:
            return default
        return choice_of(cell, names, what, self.table.sheet.where(cell), self.findings) or default

    def money(self, name: str) -> Money | None:
        """Give an amount; blank means that it is not known."""
        cell = self.cell(name)
        return money_of(cell, self.table.sheet.where(cell), self.findings) if cell.filled else None

    def day(self, name: str) -> str:
        """Give a day, ISO 8601; empty when blank or not understood."""
        cell = self.cell(name)
        return due_of(cell, self.table.sheet.where(cell), self.findings)

    def built(self, build: Callable[[], Value]) -> Value | None:
        """Build a value; what cannot exist becomes a finding at the row's first cell."""
        try:
            return build()
        except ProblemError as why:
            self.findings.error("cannot-exist", self.table.sheet.where(self._first), self.row.raw, str(why))
            return None

    @property
    def _first(self) -> Cell:
        return self.row.cells[min(self.row.cells)]


def _tell_unread(table: Table, findings: Findings) -> None:
    """Tell of the columns that are not ours: a figure nobody reads could be a price."""
    accepted = ", ".join(column.heading for column in table.plan.columns)
    for number, heading in table.extras:
        texts = [cell.text for row in table.body if (cell := row.cell(number)).filled]
        where = table.sheet.where(table.header.cell(number))
        found = match_heading(table.plan, heading)
        if not texts or (found and found[1]):  # two headings that mean the same are asked about already
            continue
        if "price" in (column.field for column in table.plan.columns) and is_per_length(heading):
            findings.ask(
                "price-per-length", where, heading, "Prices are read per bar; give the price of each bar."
            )
        elif all(_is_figure(text) for text in texts):
            findings.warning(
                "column-not-read",
                where,
                heading,
                f"The heading is not known, so the figures below it are not read. Headings read: {accepted}.",
            )
        else:
            findings.note("column-not-read", where, heading, "The heading is not known; not read.")


def _is_figure(text: str) -> bool:
    try:
        read_price(text)
    except PriceAmbiguous:
        return True
    except MoneyNotUnderstood:
        return False
    return True


def catalogue_rows(table: Table, findings: Findings, default_unit: Unit | None) -> Iterator[CatalogueRow]:
    """Give the rows of a sheet that are lines of it, and tell of those, and of columns, that are not."""
    _tell_unread(table, findings)
    for row in table.body:
        if same_heading(table.header, row):
            continue
        reader = CatalogueRow(table, row, findings, default_unit)
        first = row.cells[min(row.cells)]
        if row.struck:
            findings.warning(
                "struck-row", table.sheet.where(first), row.raw, "The row is struck through and is left out."
            )
        elif len(row.cells) == 1 and len(table.columns) > 1 and table.plan.kind != "Families":
            findings.note(
                "text-row", table.sheet.where(first), row.raw, "Read as a heading or remark, not as a line."
            )
        else:
            yield reader
