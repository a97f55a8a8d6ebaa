"""What was read of a draft, row by row: the list's own cells, what became of them, what was noticed where."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from api.pages.new.drafts import Draft
from api.pages.new.reading import Reading
from api.pages.new.rows import Show, common_defaults, row_number, shown, weighed
from api.pages.new.said import Said, default_words, said_of
from nesting.errors import Severity, Where
from nesting.sheets.cells import Cell, Row, Sheet, cell_position
from nesting.sheets.columns import SAW_LENGTHS
from nesting.sheets.read_header import find_header
from nesting.sheets.read_report import RowEcho, Verdict
from nesting.sheets.read_tabs import plan_of
from nesting.units import Length

ROWS_A_PAGE = 100
RAW_ROWS = 12
SAW_DEFAULTS = frozenset(f"default-{name.replace('_', '-')}" for name in SAW_LENGTHS)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftView:
    """
    A draft as it was read.

    Parameters
    ----------
    counts
        Rows by verdict.
    elsewhere
        What was noticed outside the rows that have a table: in other sheets, or of the list as a whole.
    to_settle
        How many things must be settled before it can be planned.
    saw_taken
        Codes of the saw's allowances that were taken from common practice.
    defaults
        What no row says, and what is taken instead.
    rows
        Rows of the choice, on all pages.
    """

    tables: tuple[TableView, ...]
    counts: Mapping[Verdict, int]
    elsewhere: tuple[Said, ...]
    saw_taken: frozenset[str]
    defaults: tuple[str, ...]
    to_settle: int
    runs: int
    pieces: int
    show: Show
    rows: int
    page: int
    pages: int


def draft_view(
    draft: Draft, reading: Reading, *, show: Show | None = None, page: int = 1, opened: str = ""
) -> DraftView:
    """
    Set a draft out for its page.

    Parameters
    ----------
    show
        None shows the rows to settle when the list has more rows than a page and any is to be settled.
    opened
        The row whose cells are shown as fields, as ``Runs!17``.
    """
    outcome = reading.outcome
    said = tuple(said_of(outcome.findings, outcome.sheets))
    echo = tuple(weighed(outcome.echo.rows, said))
    counts = {verdict: sum(row.verdict is verdict for row in echo) for verdict in Verdict}
    if show is None:
        narrow = counts[Verdict.ASK] and len(echo) > ROWS_A_PAGE
        show = Show.SETTLE if narrow else Show.ALL
    chosen = [row for row in echo if shown(row, show)]
    pages = max(-(-len(chosen) // ROWS_A_PAGE), 1)
    page = min(page, pages)
    on_page = chosen[(page - 1) * ROWS_A_PAGE : page * ROWS_A_PAGE]
    common = common_defaults(echo)
    setter = _Setter(draft, outcome.sheets, said, opened, common)
    tables = tuple(setter.tables(on_page) if echo else setter.raw_tables())
    in_rows = {(row.where.source, row_number(row)) for row in echo}
    return DraftView(
        tables=tables,
        counts=counts,
        elsewhere=tuple(
            one
            for one in sorted(setter.said, key=lambda one: list(Severity).index(one.severity))
            if one.code not in SAW_DEFAULTS and not setter.in_table(one, in_rows)
        ),
        saw_taken=frozenset(one.code for one in setter.said) & SAW_DEFAULTS,
        defaults=tuple(default_words(words) for words in common),
        to_settle=sum(one.severity.refuses for one in setter.said) + len(reading.chosen.faults),
        runs=outcome.echo.runs,
        pieces=outcome.echo.pieces,
        show=show,
        rows=len(chosen),
        page=page,
        pages=pages,
    )


def standing_texts(sheets: Sequence[Sheet]) -> dict[Where, str]:
    """Give what stands in every filled cell of the list as it was last read."""
    return {
        sheet.where(cell): cell.raw for sheet in sheets for row in sheet.rows for cell in row.cells.values()
    }


def row_places(sheets: Sequence[Sheet], name: str) -> tuple[Where, ...]:
    """Give the filled cells of a row named as ``Runs!17``."""
    source, _, number = name.rpartition("!")
    return tuple(
        sheet.where(cell)
        for sheet in sheets
        if sheet.name == source
        for row in sheet.rows
        if str(row.number) == number
        for cell in row.cells.values()
    )


class _Setter:
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
        self._lent = {key: text for sheet in sheets for key, text in _lent(sheet)}
        self._headers = {name: _header(sheet) for name, sheet in self._sheets.items()}
        self._by_row: dict[tuple[str, int], list[Said]] = defaultdict(list)
        for one in said:
            if position := cell_position(one.where.at):
                self._by_row[one.where.source, position[0]].append(one)

    def in_table(self, one: Said, in_rows: set[tuple[str, int]]) -> bool:
        position = cell_position(one.where.at)
        if position is None:
            return False
        header = self._headers.get(one.where.source)
        at_head = header is not None and header.number == position[0]
        listed = {source for source, _ in in_rows}
        return (one.where.source, position[0]) in in_rows or (at_head and one.where.source in listed)

    def tables(self, rows: Sequence[RowEcho]) -> Iterator[TableView]:
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


def _lent(sheet: Sheet) -> Iterator[tuple[tuple[str, int, int], str]]:
    """Give the cells that a merged block lends its text, as the reader of lists spreads it downwards."""
    rows = {row.number: row for row in sheet.rows}
    last = max(rows, default=0)
    for block in sheet.blocks:
        top = rows.get(block.top)
        if top is not None and (text := top.cell(block.left).raw):
            for number in range(block.top + 1, min(block.bottom, last) + 1):
                yield (sheet.name, number, block.left), text


def _header(sheet: Sheet) -> Row | None:
    plan = plan_of(sheet) if sheet.rows else None
    return find_header(plan, sheet) if plan is not None else None
