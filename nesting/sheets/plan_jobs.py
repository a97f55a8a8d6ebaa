"""What each job takes from the plan."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import FIRST_ROW, Column, Kind, write_list, write_value


def write_jobs(book: Book, plan: Plan) -> None:
    """Write each job's pieces, metal and share of the cost; the sums are exact."""
    currency = f" ({plan.request.currency})" if plan.request.currency else ""
    columns = (
        Column("job", 26),
        Column("pieces", 10, Kind.COUNT),
        Column("good (m)", 16, Kind.METRE),
        Column("consumed (m)", 16, Kind.METRE),
        Column("share of metal", 16, Kind.SHARE),
        Column(f"cost{currency}", 14, Kind.MONEY),
        Column("share of cost", 15, Kind.SHARE),
    )
    metal = sum(job.consumed for job in plan.jobs)
    money = sum(job.cost for job in plan.jobs)
    rows = [
        (
            job.job,
            job.pieces,
            job.good,
            job.consumed,
            job.consumed / metal if metal else None,
            job.cost,
            job.cost / money if money else None,
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
        money,
        1.0 if money else None,
    )
    for position, (column, value) in enumerate(zip(columns, total, strict=True)):
        # Below the filtered rows, so that filtering never hides the sum.
        row = FIRST_ROW + len(rows)
        write_value(book, sheet, row, position, column.kind, value, bold=True, top=2)
