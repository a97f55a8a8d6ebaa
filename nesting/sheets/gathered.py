"""The same thing said of many cells, told once."""

from __future__ import annotations

from dataclasses import dataclass, field

from nesting.errors import Severity
from nesting.sheets.cells import Cell
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_header import Table


@dataclass(slots=True)
class Gathered:
    """The same thing said of many cells, told once with all of them."""

    findings: Findings
    table: Table
    _cells: dict[tuple[Severity, str, str], list[Cell]] = field(default_factory=dict)

    def add(self, severity: Severity, code: str, message: str, cell: Cell) -> None:
        """Gather one cell under a code and message."""
        self._cells.setdefault((severity, code, message), []).append(cell)

    def tell(self) -> None:
        """Give one finding for each code and message."""
        for (severity, code, message), cells in self._cells.items():
            at = listed([cell.at for cell in cells])
            where = self.table.sheet.where(cells[0])
            self.findings.add(severity, code, where, cells[0].raw, f"{message} Rows: {len(cells)} ({at}).")
