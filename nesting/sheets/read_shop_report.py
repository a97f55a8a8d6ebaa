"""From the filled-in sheet "Shop report", or a CSV file of it, to what the shop reports."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from nesting.domain.made import Span
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.errors import ProblemError, Where
from nesting.sheets.cells import Cell, CellKind, Row, Sheet
from nesting.sheets.columns import plain_words
from nesting.sheets.findings import Findings
from nesting.sheets.read_csv import read_csv
from nesting.sheets.read_values import broken_cell, length_of, text_of, yes_no_of
from nesting.sheets.read_workbook import read_workbook
from nesting.sheets.shop_report_columns import FIELDS, STILL_OPEN, TAB, WORDS
from nesting.units import Length, Unit, read_unit

_SEARCHED_ROWS = 30
_PLAN = re.compile(r"\bplan ([0-9a-f]{12})\b")
_BRACKETS = re.compile(r"\([^)]*\)")
_TO_FILL_IN = ("outcome", "tail", "made", "piece", "length", "start", "end", "short")
_KEPT = (*_TO_FILL_IN, "note")


def read_shop_report(path: Path) -> ShopReport:
    """
    Read a report from the shop.

    A row without anything in its right half says that the bar is open. Rows of one bar are taken
    together, so that it can have several wrong pieces and several damaged stretches.

    Parameters
    ----------
    path
        The plan's own workbook with its sheet filled in, or the sheet alone as .xlsx or .csv.

    Raises
    ------
    InputRefused
        When a cell is not understood, an outcome is missing, or a row contradicts itself; it carries
        every finding, each at its cell.
    """
    findings = Findings()
    csv = path.suffix.lower() == ".csv"
    sheets = read_csv(path, findings) if csv else read_workbook(path, findings)
    found = next(((sheet, header) for sheet in _likely(sheets) if (header := _header(sheet))), None)
    if found is None:
        if not findings.refuses:
            wanted = "a sheet with the columns 'bar' and 'outcome' is expected"
            findings.error("no-report", Where(path.name), path.name, f"No shop report: {wanted}.")
        raise findings.stop()
    sheet, header = found
    table = _Table(sheet, header, _columns(header), findings)
    bars = table.bars()
    if findings.refuses:
        raise findings.stop()
    return ShopReport(plan=_plan_named(sheet, header), bars=bars, lost=tuple(table.lost))


def filled_in(sheet: Sheet) -> bool:
    """Tell whether the shop has written anything into a report, if only a note."""
    header = _header(sheet)
    if header is None:
        return False
    columns = _columns(header)
    asked = [columns[name] for name in _KEPT if name in columns]
    return any(
        row.number > header.number and any(row.cell(column).filled for column in asked) for row in sheet.rows
    )


@dataclass(slots=True)
class _Gathered:
    """What the rows of one bar say so far."""

    where: Where
    outcome: Outcome | None = None
    tail: Length | None = None
    made: int = 0
    miscuts: list[Miscut] = field(default_factory=list)
    defects: list[Span] = field(default_factory=list)
    short: bool = False


@dataclass(slots=True)
class _Table:
    sheet: Sheet
    header: Row
    columns: dict[str, int]
    findings: Findings
    lost: list[str] = field(default_factory=list)

    def bars(self) -> tuple[BarReport, ...]:
        """Give one report for each bar that is not open."""
        gathered: dict[int, _Gathered] = {}
        for row in self.sheet.rows:
            if row.number > self.header.number and any(self._cell(row, name).filled for name in _TO_FILL_IN):
                self._read(row, gathered)
        reports = []
        for number, said in gathered.items():
            if said.outcome is None:
                self.findings.ask(
                    "no-outcome",
                    said.where,
                    f"bar {number}",
                    "Something is filled in, but no outcome: done, stopped, frozen or not found.",
                )
                continue
            try:
                reports.append(
                    BarReport(
                        bar=number,
                        outcome=said.outcome,
                        tail=said.tail,
                        made=said.made,
                        miscuts=tuple(said.miscuts),
                        defects=tuple(said.defects),
                        short=said.short,
                        where=said.where,
                    )
                )
            except ProblemError as why:
                self.findings.error("cannot-be", said.where, f"bar {number}", str(why))
        return tuple(reports)

    def _read(self, row: Row, gathered: dict[int, _Gathered]) -> None:
        if plain_words(self._cell(row, "outcome").text) in STILL_OPEN:
            return
        outcome = self._outcome(row)
        number = self._whole(row, "bar")
        if number is None:
            if outcome is Outcome.NOT_FOUND and (tag := self._text(row, "source")):
                self.lost.append(tag.removeprefix("offcut "))
            elif not self._cell(row, "bar").filled:
                where = self.sheet.where(next(iter(row.cells.values())))
                self.findings.error("no-bar", where, row.raw, "The row names no bar.")
            return
        first = self.sheet.where(self._cell(row, "bar"))
        said = gathered.setdefault(number, _Gathered(first))
        if outcome is not None and said.outcome not in (None, outcome):
            self.findings.error(
                "two-outcomes",
                self._where(row, "outcome"),
                outcome.value,
                f"Bar {number} is {said.outcome.value} by another row." if said.outcome else "",
            )
        said.outcome = said.outcome or outcome
        tail, made = self._length(row, "tail"), self._whole(row, "made")
        said.tail = tail if said.tail is None else said.tail
        said.made = made or said.made
        short = self._cell(row, "short")
        if short.filled:
            said.short |= bool(yes_no_of(short, "bar was short", self.sheet.where(short), self.findings))
        piece, length = self._text(row, "piece"), self._length(row, "length")
        if piece:
            said.miscuts.append(Miscut(piece, length or None))
        elif length is not None:
            self.findings.error(
                "no-piece", self._where(row, "length"), str(length), "Name the piece that came out so."
            )
        self._damage(row, said)

    def _damage(self, row: Row, said: _Gathered) -> None:
        start, end = self._length(row, "start"), self._length(row, "end")
        if start is None and end is None:
            return
        if start is None or end is None:
            missing = "start" if start is None else "end"
            self.findings.error(
                "half-a-span", self._where(row, missing), "", "Damage needs its beginning and its end."
            )
            return
        try:
            said.defects.append(Span(start, end))
        except ProblemError as why:
            self.findings.error("cannot-be", self._where(row, "start"), "", str(why))

    def _outcome(self, row: Row) -> Outcome | None:
        cell = self._cell(row, "outcome")
        text = plain_words(text_of(cell, self.sheet.where(cell), self.findings)) if cell.filled else ""
        if text and text not in WORDS:
            accepted = ", ".join(outcome.value for outcome in Outcome)
            self.findings.error(
                "outcome-not-understood",
                self.sheet.where(cell),
                cell.raw,
                f"Accepted as outcome: {accepted}; blank while the bar is open.",
            )
        return WORDS.get(text)

    def _cell(self, row: Row, name: str) -> Cell:
        column = self.columns.get(name)
        return row.cell(column) if column else Cell(row=row.number, column=1)

    def _where(self, row: Row, name: str) -> Where:
        return self.sheet.where(self._cell(row, name))

    def _text(self, row: Row, name: str) -> str:
        cell = self._cell(row, name)
        return text_of(cell, self.sheet.where(cell), self.findings) if cell.filled else ""

    def _length(self, row: Row, name: str) -> Length | None:
        cell = self._cell(row, name)
        if not cell.filled:
            return None
        unit = read_unit(self.header.cell(self.columns[name]).text) or Unit.MM
        reading = length_of(cell, unit, self.sheet.where(cell), self.findings, may_be_zero=True)
        return reading.length if reading else None

    def _whole(self, row: Row, name: str) -> int | None:
        cell = self._cell(row, name)
        if not cell.filled or broken_cell(cell, self.sheet.where(cell), self.findings):
            return None
        match = re.fullmatch(r"([0-9]{1,9})(?:\.0+)?", cell.text)
        if match is None:
            heading = FIELDS[name].column.heading
            self.findings.error(
                "not-a-whole-number",
                self.sheet.where(cell),
                cell.raw,
                f"A whole number is expected as {heading!r}.",
            )
            return None
        return int(match[1])


def _likely(sheets: Sequence[Sheet]) -> Iterator[Sheet]:
    """Give the sheet of the report's own name first."""
    yield from sorted(sheets, key=lambda sheet: plain_words(sheet.name) != plain_words(TAB))


def _header(sheet: Sheet) -> Row | None:
    return next(
        (row for row in sheet.rows[:_SEARCHED_ROWS] if {"bar", "outcome"} <= _columns(row).keys()), None
    )


def _columns(header: Row) -> dict[str, int]:
    columns: dict[str, int] = {}
    for number, cell in sorted(header.cells.items()):
        if cell.kind is CellKind.TEXT and (name := _meaning(cell.text)):
            columns.setdefault(name, number)
    return columns


def _meaning(heading: str) -> str | None:
    said = plain_words(_BRACKETS.sub(" ", heading))
    for name, asked in FIELDS.items():
        if said in (plain_words(_BRACKETS.sub(" ", asked.column.heading)), *asked.accepts):
            return name
    return None


def _plan_named(sheet: Sheet, header: Row) -> str:
    above = (cell.text for row in sheet.rows if row.number < header.number for cell in row.cells.values())
    return next((match[1] for text in above if (match := _PLAN.search(text))), "")
