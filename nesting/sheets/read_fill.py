"""What a line borrows: from a merged block, from the lines and headings above, from the title block."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from nesting.sheets.cells import Block, Cell, Row, Sheet
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_header import Table

LEVELS = ("job", "building", "floor", "unit", "room")
_MATERIAL = ("family", "finish")
_DITTO = ('"', "''", "〃", "do", "do.", "ditto", "as above", "same", '-"-')


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """
    One line to be made.

    Parameters
    ----------
    row
        As it stands in the sheet.
    cells
        Cell of each field, with what merged blocks and the lines above lend it.
    borrowed
        Fields lent by the lines above.
    """

    row: Row
    cells: dict[str, Cell]
    borrowed: tuple[str, ...] = ()

    def cell(self, name: str) -> Cell:
        """Give the cell of a field; empty when the list has no such column."""
        return self.cells.get(name) or Cell(row=self.row.number, column=1)


def spread(sheet: Sheet, rows: Iterable[Row]) -> Iterator[tuple[Block, range, Cell]]:
    """Give each merged block that begins in one of these rows, the rows below that it fills, with what."""
    by_number = {row.number: row for row in rows}
    last = max(by_number, default=0)
    for block in sheet.blocks:
        top = by_number.get(block.top)
        if top is not None and (lent := top.cell(block.left)).filled:
            yield block, range(block.top + 1, min(block.bottom, last) + 1), lent


@dataclass(slots=True)
class FillDown:
    """The values in force while walking down a list."""

    table: Table
    findings: Findings
    _current: dict[str, Cell] = field(default_factory=dict)
    _merged: dict[tuple[int, int], Cell] = field(default_factory=dict)
    _borrowed: dict[str, list[Cell]] = field(default_factory=dict)
    _headed: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        """Spread each merged block's value over the rows below its first."""
        for block, numbers, lent in spread(self.table.sheet, self.table.body):
            columns = [c for c in self.table.columns.values() if block.left <= c <= block.right]
            for number in numbers:
                self._merged |= {(number, column): lent for column in columns}

    def enter(self, level: str, cell: Cell, *, heading: bool = False) -> None:
        """
        Put a place in force; another floor ends the unit and room of the floor before.

        What a heading lends to the lines below it is told with the heading, not once more.
        """
        before = self._current.get(level)
        (self._headed.add if heading else self._headed.discard)(level)
        self._current[level] = cell
        if before is None or before.text != cell.text:
            for below in LEVELS[LEVELS.index(level) + 1 :]:
                self._current.pop(below, None)

    def line(self, row: Row) -> Line:
        """Give a row with what it borrows."""
        cells = {name: self._own_or_merged(row, column, name) for name, column in self.table.columns.items()}
        borrowed = [*self._borrow_place(row, cells), *self._borrow_material(row, cells)]
        return Line(row=row, cells=cells, borrowed=tuple(borrowed))

    def kept(self, line: Line) -> None:
        """Remember that a line is made, so that what it borrowed is told."""
        for name in line.borrowed:
            self._borrowed.setdefault(name, []).append(line.row.cell(self.table.columns[name]))

    def tell(self) -> None:
        """Warn of each column that lent values, with the cells that took them."""
        for name, cells in self._borrowed.items():
            self.findings.warning(
                "filled-down",
                self.table.sheet.where(cells[0]),
                "",
                f"{len(cells)} blank cell(s) of {self.table.heading(name)} took the value above: "
                f"{listed([cell.at for cell in cells])}.",
            )

    def _borrow_place(self, row: Row, cells: dict[str, Cell]) -> list[str]:
        borrowed = []
        for level in LEVELS:
            cell = cells.get(level)
            if cell is not None and cell.filled and not _is_ditto(cell):
                self.enter(level, cell)
            elif level in self._current:
                cells[level] = replace(self._current[level], row=row.number)
                if level in self.table.columns and level not in self._headed:
                    borrowed.append(level)
            elif level in self.table.title.values:
                cells[level] = self.table.title.values[level]
            elif cell is not None:
                cells[level] = Cell(row=row.number, column=cell.column)
        return borrowed

    def _borrow_material(self, row: Row, cells: dict[str, Cell]) -> list[str]:
        """Let a ditto mark take the family or finish above; a blank one is left to be asked about."""
        borrowed: list[str] = []
        for name in _MATERIAL:
            cell = cells.get(name)
            if cell is None:
                continue
            if _is_ditto(cell) and name in self._current:
                cells[name] = replace(self._current[name], row=row.number)
                borrowed.append(name)
            elif cell.filled and not _is_ditto(cell):
                self._current[name] = cell
            else:
                self._current.pop(name, None)
        return borrowed

    def _own_or_merged(self, row: Row, column: int, name: str) -> Cell:
        cell = row.cell(column)
        lent = self._merged.get((row.number, column))
        if cell.filled or lent is None:
            return cell
        if name == "quantity":
            self.findings.ask(
                "merged-quantity",
                self.table.sheet.where(lent),
                lent.raw,
                "One quantity spans several lines; give each line its own.",
            )
        return replace(lent, row=row.number, column=column)


def _is_ditto(cell: Cell) -> bool:
    return cell.text.lower() in _DITTO
