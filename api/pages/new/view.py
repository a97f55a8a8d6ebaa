"""What was read of a draft: its tables, what was noticed elsewhere, what must be settled before planning."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from api.pages.new.drafts import Draft
from api.pages.new.reading import Reading
from api.pages.new.rows import Show, common_defaults, row_number, shown, weighed
from api.pages.new.said import Said, default_words, said_of
from api.pages.new.tables import Setter, TableView
from nesting.errors import Severity, Where
from nesting.sheets.cells import Sheet
from nesting.sheets.columns import SAW_LENGTHS
from nesting.sheets.read_report import Verdict

ROWS_A_PAGE = 100
SAW_DEFAULTS = frozenset(f"default-{name.replace('_', '-')}" for name in SAW_LENGTHS)


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
    setter = Setter(draft, outcome.sheets, said, opened, common)
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
