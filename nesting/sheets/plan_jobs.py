"""What each job takes from the plan."""

from __future__ import annotations

from typing import Any

from nesting.domain.plan import Plan
from nesting.reports.completion import unit_rows
from nesting.sheets.plan_book import SHADE, Book, rows_needed
from nesting.sheets.plan_list import FIRST_ROW, Column, Kind, Value, write_list, write_value

_NAME = 34


def write_jobs(book: Book, plan: Plan) -> None:
    """Write each job's pieces, metal and share of the cost; the sums are exact."""
    currency = f" ({plan.request.currency})" if plan.request.currency else ""
    columns = (
        Column("job", _NAME),
        Column("pieces", 10, Kind.COUNT),
        Column("good (m)", 16, Kind.METRE),
        Column("consumed (m)", 16, Kind.METRE),
        Column("share of metal", 16, Kind.SHARE),
        Column(f"cost{currency}", 14, Kind.MONEY),
        Column("share of cost", 15, Kind.SHARE),
    )
    metal = sum(job.consumed for job in plan.jobs)
    # Without any price a share of nothing would say that the bars are free.
    priced = any(group.priced for group in plan.groups)
    money = sum(job.cost for job in plan.jobs)
    rows = [
        (
            job.job,
            job.pieces,
            job.good,
            job.consumed,
            job.consumed / metal if metal else None,
            job.cost if priced else None,
            job.cost / money if priced and money else None,
        )
        for job in plan.jobs
    ]
    sheet = write_list(
        book,
        "Jobs",
        "Jobs",
        "Every bar is shared by the length its pieces take; an offcut going back to the rack is nobody's.",
        columns,
        rows,
        nothing="No job has a piece in this plan.",
        landscape=False,
    )
    if not rows:
        return
    total = (
        "all",
        sum(job.pieces for job in plan.jobs),
        sum(job.good for job in plan.jobs),
        metal,
        1.0 if metal else None,
        money if priced else None,
        1.0 if priced and money else None,
    )
    for position, (column, value) in enumerate(zip(columns, total, strict=True)):
        # Below the filtered rows, so that filtering never hides the sum.
        row = FIRST_ROW + len(rows)
        write_value(book, sheet, row, position, column.kind, value, bold=True, top=2)
    _write_units(book, sheet, FIRST_ROW + len(rows) + 2, plan)


def _write_units(book: Book, sheet: Any, row: int, plan: Plan) -> None:
    """Write below the jobs after which bar each unit has all its pieces."""
    book.text(sheet, row, 0, "Units", bold=True, font_size=14)
    book.text(sheet, row + 1, 0, "Cut in the order of the bars' numbers, a unit is complete after this bar.")
    head: dict[str, Any] = {"bold": True, "bg_color": SHADE, "bottom": 2}
    headings = ("job, unit", "floor", "pieces", "complete after bar", "missing")
    for position, heading in enumerate(headings):
        align = "right" if position > 1 else "left"
        book.text(sheet, row + 2, position, heading, align=align, indent=int(position == 1), **head)
    for offset, unit in enumerate(unit_rows(plan), start=row + 3):
        name = ", ".join(p for p in (unit.job, unit.building, unit.unit or "no unit named") if p)
        values: tuple[tuple[Kind, Value], ...] = (
            (Kind.TEXT, name),
            (Kind.TEXT, unit.floor),
            (Kind.COUNT, unit.pieces),
            (Kind.COUNT, unit.after if not unit.missing else None),
            (Kind.COUNT, unit.missing or None),
        )
        for position, (kind, value) in enumerate(values):
            write_value(book, sheet, offset, position, kind, value, text_wrap=not position)
        sheet.set_row(offset, 2.0 + 13.0 * rows_needed(name, _NAME - 2))
        if unit.missing:
            book.text(sheet, offset, 3, "never in this plan", bold=True, align="right", bottom=1)
