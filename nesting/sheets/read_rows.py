"""
Walk the rows of a list: what is a line to be made, and what is only layout.

Nothing is dropped in silence: headings, totals, struck and cancelled lines are echoed as skipped
with the reason; totals are compared with the sums of the lines above them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from nesting.sheets.cells import Cell, CellKind, Row
from nesting.sheets.columns import plain_words
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_fill import LEVELS, FillDown, Line
from nesting.sheets.read_header import Table, is_header, same_heading
from nesting.sheets.read_report import RowEcho, Verdict
from nesting.sheets.read_tally import Tally
from nesting.sheets.read_values import unit_of

_TOTAL = re.compile(
    r"(?:grand|floor|unit|page|overall|sheet|apartment)?[\s-]*(?:sub)?[\s-]*(?:totals?|sum)\b.*",
    re.IGNORECASE,
)
_SECTIONS = (
    ("building", re.compile(r"(?:building|block|tower)\b.+", re.IGNORECASE)),
    ("floor", re.compile(r"(?:floor|level|storey|story)\b.+|.*\b(?:floor|level)", re.IGNORECASE)),
    ("unit", re.compile(r"(?:apartment|apt|flat|unit|suite)\b.+", re.IGNORECASE)),
    ("room", re.compile(r"room\b.+", re.IGNORECASE)),
)
_CANCELLED = (
    "cancelled",
    "canceled",
    "deleted",
    "void",
    "omit",
    "omitted",
    "not required",
    "do not make",
    "dropped",
)


@dataclass(slots=True)
class Walk:
    """The walk down one list; iterate it, and report each line's quantity and length back."""

    table: Table
    findings: Findings
    echo: list[RowEcho]
    tally: Tally = field(default_factory=Tally)
    _fill: FillDown = field(init=False)
    _coloured: list[str] = field(default_factory=list)
    _hidden: list[str] = field(default_factory=list)
    _shapes: dict[int, frozenset[str]] = field(default_factory=dict)
    _lines: int = 0
    _closed: bool = False
    _ended: bool = False

    def __post_init__(self) -> None:
        """Start with nothing in force."""
        self._fill = FillDown(self.table, self.findings)

    def __iter__(self) -> Iterator[Line]:
        """Give the lines to be made, top down."""
        for row in self.table.body:
            if row.hidden:
                self._hidden.append(f"row {row.number}")
            if self._is_layout(row):
                continue
            line = self._fill.line(row)
            if self._passed_over(line):
                continue
            self._lines += 1
            self._fill.kept(line)
            if any(cell.coloured for cell in row.cells.values()):
                self._coloured.append(f"row {row.number}")
            yield line
        self._close()

    def counted(self, quantity: int, length: int) -> None:
        """Add the last line to the sums that totals are compared with."""
        self.tally.add(quantity, length)

    def skip(self, row: Row, reason: str) -> None:
        """Echo a row as passed over."""
        first = min(row.cells)
        self.echo.append(
            RowEcho(
                where=self.table.sheet.where(row.cells[first]),
                raw=row.raw,
                verdict=Verdict.SKIP,
                reason=reason,
            )
        )

    def _is_layout(self, row: Row) -> bool:
        where = self.table.sheet.where(row.cells[min(row.cells)])
        if self._ended:
            self.skip(row, "below the header of a second list")
        elif same_heading(self.table.header, row):
            self.skip(row, "header repeated")
        elif len(row.cells) > 2 and _all_words(row) and is_header(self.table.plan, row):
            self.skip(row, "a second header")
            self._ended = True
            self.findings.error(
                "second-table",
                where,
                row.raw,
                "A second list with other columns starts here; give it its own sheet.",
            )
        elif self._units_row(row):
            self.skip(row, "units of the columns")
        elif row.struck:
            self.skip(row, "struck through")
            self.findings.warning(
                "struck-row",
                where,
                row.raw,
                "The row is struck through and is left out; clear the line to make it.",
            )
        elif self._total_row(row):
            self._compare(row)
        elif len(row.cells) == 1:
            return self._lone(row)
        else:
            return False
        return True

    def _units_row(self, row: Row) -> bool:
        """Tell whether a row below the header only repeats units under it, such as ``mm``."""
        if self._lines or not all(unit_of(cell.text) for cell in row.cells.values()):
            return False
        said = {unit_of(cell.text) for cell in row.cells.values()}
        if len(said) == 1 and self.table.title.unit is None:
            self.table = replace(self.table, title=replace(self.table.title, unit=said.pop()))
        return True

    def _total_row(self, row: Row) -> bool:
        first = row.cells[min(row.cells)]
        if first.kind is CellKind.TEXT and _TOTAL.fullmatch(first.text):
            family = self.table.columns.get("family")
            return family is None or family == first.column or not row.cell(family).filled
        by_column = {column: name for name, column in self.table.columns.items()}
        filled = {by_column.get(column, "") for column in row.cells}
        if filled == {"quantity"} and len(self.table.columns) > 2:
            return True
        # A bare quantity and length below lines with ids would else become a run of the last family.
        bare = {"quantity", self.table.length_field}
        return (
            filled == bare
            and len(self.table.columns) > 2
            and self.tally.are_sums(
                row.cell(self.table.columns["quantity"]),
                row.cell(self.table.columns[self.table.length_field]),
                self.table.unit(self.table.length_field),
            )
        )

    def _compare(self, row: Row) -> None:
        quantity = row.cell(self.table.columns["quantity"]) if "quantity" in self.table.columns else None
        length = row.cell(self.table.columns[self.table.length_field]) if self.table.length_field else None
        unit = self.table.unit(self.table.length_field) if self.table.length_field else None
        texts = [cell for cell in row.cells.values() if cell.kind is CellKind.TEXT]
        self.tally.compare(
            quantity if quantity and quantity.filled else None,
            length if length and length.filled else None,
            texts[0] if texts else None,
            unit,
            self.table.sheet,
            self.findings,
        )
        self.skip(row, "total")
        self._closed = True

    def _lone(self, row: Row) -> bool:
        """Take a row with one text for a section heading or a remark; False when it is a line."""
        (column, cell) = next(iter(row.cells.items()))
        name = next((name for name, number in self.table.columns.items() if number == column), "")
        if cell.kind is not CellKind.TEXT or name in ("quantity", self.table.length_field):
            return False
        if (
            name == "id"
            and not any(pattern.fullmatch(cell.text) for _, pattern in _SECTIONS)
            and self._like_ids(cell)
        ):
            return False
        if re.fullmatch(r"page \d+.*", cell.text, re.IGNORECASE):
            self.skip(row, "page number")
            return True
        level = next((level for level, pattern in _SECTIONS if pattern.fullmatch(cell.text)), "")
        if not level and name in LEVELS:
            level = name
        if not level or name == "note":
            self.skip(row, "a text alone in its row")
            self.findings.note(
                "text-row",
                self.table.sheet.where(cell),
                cell.text,
                "Read as a heading or remark, not as a line.",
            )
            return True
        self._fill.enter(level, cell, heading=True)
        self.skip(row, "section heading")
        self.findings.note(
            "section-heading",
            self.table.sheet.where(cell),
            cell.text,
            f"Read as the {level} of the lines below that name none.",
        )
        return True

    def _like_ids(self, cell: Cell) -> bool:
        """Tell whether a text has the shape of another id in its column: ``A-1`` and ``B-12``."""
        if cell.column not in self._shapes:
            self._shapes[cell.column] = frozenset(
                _shape(other.text)
                for row in self.table.body
                if len(row.cells) > 1 and (other := row.cell(cell.column)).filled
            )
        return _shape(cell.text) in self._shapes[cell.column]

    def _passed_over(self, line: Line) -> bool:
        """Skip cancelled lines, and texts that are no line at all."""
        where = self.table.sheet.where(line.row.cells[min(line.row.cells)])
        for name in ("status", "note"):
            if plain_words(line.cell(name).text) in _CANCELLED:
                self.skip(line.row, "cancelled")
                self.findings.warning(
                    "cancelled-row", where, line.row.raw, "The line says it is cancelled and is left out."
                )
                return True
        own = {name for name, column in self.table.columns.items() if column in line.row.cells}
        asks = {"quantity", "id", "family", self.table.length_field} - {""}
        closing = self._closed and self.table.length_field not in own and "quantity" not in own
        if own & asks and not closing:
            return False
        self.skip(line.row, "no length, quantity, id or family")
        self.findings.warning(
            "row-not-read", where, line.row.raw, "The row names nothing to be made and is left out."
        )
        return True

    def _close(self) -> None:
        sheet = self.table.sheet
        self._fill.tell()
        if self._hidden:
            self.findings.warning(
                "hidden-rows",
                sheet.where(),
                listed(self._hidden),
                "Hidden or filtered rows are read like the others; delete them if they are not to be made.",
            )
        if self._coloured and len(self._coloured) * 2 < self._lines:
            self.findings.warning(
                "coloured-rows",
                sheet.where(),
                listed(self._coloured),
                "Colours are not read; if these lines are cancelled, write so into Status or delete them.",
            )


def _all_words(row: Row) -> bool:
    """Tell whether no cell begins with a figure: a line of a family LINE for an opening is no header."""
    return not any(re.match(r"[-+]?[.,]?\d", cell.text) for cell in row.cells.values())


def _shape(text: str) -> str:
    return re.sub(r"[^\W\d_]+", "a", re.sub(r"\d+", "9", text))
