"""What goes into the bag, onto the reel and to the electrician."""

from __future__ import annotations

from fractions import Fraction

from nesting.domain.electrics import PLANNING_AID
from nesting.domain.plan import Plan
from nesting.reports.small_part_words import PartRow, small_part_rows
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import Column, Kind, Value, write_list

_COLUMNS = (
    Column("part", 12),
    Column("kind", 18),
    Column("family or strip", 16),
    Column("finish", 12),
    Column("count", 9, Kind.COUNT),
    Column("amount", 12, Kind.COUNT),
    Column("unit", 9),
    Column("remark", 58),
)


def write_small_parts(book: Book, plan: Plan) -> None:
    """Write one row for every kind of small part; nothing when the plan is older than they are."""
    if plan.small_parts is None:
        return
    rows = [_row(row) for row in small_part_rows(plan.small_parts)]
    write_list(
        book,
        "Small parts",
        "Small parts",
        f"Counted from the runs; order spares on top. Electrical figures: {PLANNING_AID[0].lower()}"
        f"{PLANNING_AID[1:]}",
        _COLUMNS,
        rows,
        nothing="No caps, clips or strip in this plan.",
    )


def _row(row: PartRow) -> tuple[Value, ...]:
    return (
        *(row.part, row.kind, row.family, row.finish, row.count),
        None if row.amount is None else _decimal(row.amount),
        "" if row.amount is None and row.count is None else row.unit,
        row.note,
    )


def _decimal(amount: Fraction) -> float:
    # For reading only: the exact figure stands in the JSON plan.
    return float(round(amount, 3))
