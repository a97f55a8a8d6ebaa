"""The tables of a draft: its list's own cells row by row, what became of them, what was noticed in each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from api.pages.new.drafts import Draft
from api.pages.new.rows import row_number
from api.pages.new.said import Said, default_words
from nesting.errors import Severity, Where
from nesting.sheets.cells import Cell, Row, Sheet, cell_position
from nesting.sheets.read_fill import spread
from nesting.sheets.read_header import find_header
from nesting.sheets.read_report import RowEcho, Verdict
from nesting.sheets.read_tabs import plan_of
from nesting.units import Length

RAW_ROWS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class CellView:
    """
    A cell of the list: its place, its text, and what the file says where it was corrected.

    Parameters
    ----------
    lent
        What a merged cell that begins further up lends it; empty where it has a text of its own.
    """

    where: Where
    text: str
    was: str | None
    marked: bool
    lent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """
    A row of the list.

    Parameters
    ----------
    verdict
        How it came through; None for a row of headings, and for one that nobody could read.
    said
        What was noticed in it.
    open
        Whether its cells are shown as fields.
    """

    number: int
    verdict: Verdict | None
    cells: tuple[CellView, ...]
    said: tuple[Said, ...]
    open: bool
    id: str = ""
    quantity: int = 0
    length: Length | None = None
    defaults: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableView:
    """One sheet of the list: its row of headings, None where there is none, and the rows that are shown."""

    source: str
    headings: LineView | None
    lines: tuple[LineView, ...]


class Setter:
    """Puts rows, cells and what was noticed together."""

    def __init__(
        self,
        draft: Draft,
        sheets: Sequence[Sheet],
        said: tuple[Said, ...],
        opened: str,
        common: tuple[str, ...],
    ) -> None:
        self.said, self._common = said, common
        self._opened = opened
        self._was = {one.where: one.was for one in draft.corrections}
        self._sheets = {sheet.name: sheet for sheet in sheets}
        self._lent = {
            (sheet.name, number, block.left): lent.raw
            for sheet in sheets
            for block, numbers, lent in spread(sheet, sheet.rows)
            for number in numbers
        }
        self._headers = {name: _header(sheet) for name, sheet in self._sheets.items()}
        self._by_row: dict[tuple[str, int], list[Said]] = defaultdict(list)
        for one in said:
            if position := cell_position(one.where.at):
                self._by_row[one.where.source, position[0]].append(one)

    def in_table(self, one: Said, in_rows: set[tuple[str, int]]) -> bool:
        """Whether something noticed stands in one of these rows, or at the head of a table of them."""
        position = cell_position(one.where.at)
        if position is None:
            return False
        header = self._headers.get(one.where.source)
        at_head = header is not None and header.number == position[0]
        listed = {source for source, _ in in_rows}
        return (one.where.source, position[0]) in in_rows or (at_head and one.where.source in listed)

    def tables(self, rows: Sequence[RowEcho]) -> Iterator[TableView]:
        """Give a table of each sheet that has any of these rows."""
        by_source: dict[str, list[RowEcho]] = defaultdict(list)
        for row in rows:
            by_source[row.where.source].append(row)
        for source, own in by_source.items():
            sheet, header = self._sheets.get(source), self._headers.get(source)
            columns: list[int] = []
            if sheet is not None and header is not None:
                below = {column for row in sheet.rows if row.number > header.number for column in row.cells}
                columns = sorted(below | set(header.cells))
            by_number = {row.number: row for row in sheet.rows} if sheet is not None else {}
            yield TableView(
                source=source,
                headings=self._headings(sheet, header, columns) if sheet and header else None,
                lines=tuple(
                    self._line(number, row, sheet, by_number.get(row_number(row)), columns)
                    for number, row in enumerate(own, 1)
                ),
            )

    def raw_tables(self) -> Iterator[TableView]:
        """Give the first rows of every sheet as they stand, so that headings can be put right."""
        for source, sheet in self._sheets.items():
            columns = sorted({column for row in sheet.rows[:RAW_ROWS] for column in row.cells})
            lines = tuple(
                LineView(
                    number=row.number,
                    verdict=None,
                    cells=tuple(self._cell(sheet, row.cell(column)) for column in columns),
                    said=tuple(self._by_row[source, row.number]),
                    open=self._opened == f"{source}!{row.number}",
                )
                for row in sheet.rows[:RAW_ROWS]
            )
            if lines:
                yield TableView(source=source, headings=None, lines=lines)

    def _headings(self, sheet: Sheet, header: Row, columns: Sequence[int]) -> LineView:
        return LineView(
            number=header.number,
            verdict=None,
            cells=tuple(self._cell(sheet, header.cell(column)) for column in columns),
            said=tuple(self._by_row[sheet.name, header.number]),
            open=self._opened == f"{sheet.name}!{header.number}",
        )

    def _line(
        self, count: int, row: RowEcho, sheet: Sheet | None, cells: Row | None, columns: Sequence[int]
    ) -> LineView:
        number = row_number(row) or count
        said = tuple(self._by_row[row.where.source, number]) if cells else ()
        if row.verdict is Verdict.ASK and not any(one.severity.refuses for one in said):
            # What is asked of many rows stands at the first of them; the others can be settled too.
            said += (Said(Severity.ASK, "to-settle", row.where, row.raw, row.raw, row.reason),)
        return LineView(
            number=number,
            verdict=row.verdict,
            cells=tuple(self._cell(sheet, cells.cell(column)) for column in columns)
            if sheet and cells
            else (),
            said=said,
            open=self._opened == f"{row.where.source}!{number}",
            id=row.id,
            quantity=row.quantity,
            length=row.length,
            defaults=tuple(default_words(words) for words in row.defaults if words not in self._common),
            reason=row.reason,
        )

    def _cell(self, sheet: Sheet, cell: Cell) -> CellView:
        where = sheet.where(cell)
        said = self._by_row.get((sheet.name, cell.row), ())
        return CellView(
            where=where,
            text=cell.raw,
            was=self._was.get(where),
            marked=any(one.where == where and one.severity is not Severity.NOTE for one in said),
            lent="" if cell.filled else self._lent.get((sheet.name, cell.row, cell.column), ""),
        )


def _header(sheet: Sheet) -> Row | None:
    plan = plan_of(sheet) if sheet.rows else None
    return find_header(plan, sheet) if plan is not None else None
