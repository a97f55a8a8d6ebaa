"""The sheet on which the shop reports back: every bar still to be cut, with columns to fill in."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.domain.report import Outcome
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import FIRST_ROW, Value, write_list
from nesting.sheets.shop_report_columns import BLANK, GUIDE, OUTCOME, PLANNED, TAB, TITLE
from nesting.units import mm_text

_COLUMNS = (*PLANNED, *BLANK)


def write_shop_report_sheet(book: Book, plan: Plan) -> None:
    """Write one row for each bar that is not cut yet; ``nesting replan`` reads the sheet as it stands."""
    rows: list[tuple[Value, ...]] = []
    bars = [(group, bar) for group in plan.groups for bar in group.bars if not bar.state.cut]
    for group, bar in sorted(bars, key=lambda pair: pair[1].number):
        cuts = "; ".join(f"{cut.piece} {mm_text(cut.stop)}" for cut in bar.cuts)
        source = f"offcut {bar.source}" if bar.offcut else "new bar"
        planned = (bar.number, str(group.material), source, bar.length, cuts, bar.tail)
        rows.append((*planned, *(None for _ in BLANK)))
    title = f"{TITLE}{plan.id}" + (f"   revision {plan.revision}" if plan.revision else "")
    sheet = write_list(book, TAB, title, GUIDE, _COLUMNS, rows, nothing="Every bar is cut.")
    if rows:
        at = _COLUMNS.index(OUTCOME)
        sheet.data_validation(
            FIRST_ROW,
            at,
            FIRST_ROW + 2 * len(rows),
            at,
            {
                "validate": "list",
                "source": [outcome.value for outcome in Outcome],
                "error_title": "Outcome",
                "error_message": "done, stopped, frozen or not found; blank while the bar is open.",
            },
        )
