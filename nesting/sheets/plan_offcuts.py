"""Offcuts: which to fetch, which tags to print, which stay on the rack."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.reports.whereabouts import born_offcuts, untouched_offcuts, used_offcuts
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import Column, Kind, Value, write_list

_COLUMNS = (
    Column("what to do", 22),
    Column("tag", 20),
    Column("rack place", 14),
    Column("family", 14),
    Column("finish", 12),
    Column("part", 10),
    Column("lot", 14),
    Column("length (mm)", 12, Kind.MM),
    Column("length (inch)", 14, Kind.INCH),
    Column("bar", 8, Kind.COUNT),
)


def write_offcuts(book: Book, plan: Plan) -> None:
    """Write the pick list, the tags to print and the offcuts left alone, in this order."""
    rows: list[tuple[Value, ...]] = []
    for offcut, bar in used_offcuts(plan):
        kind = (offcut.family, offcut.finish, offcut.part.value, offcut.lot)
        rows.append(
            ("fetch and cut", offcut.tag, offcut.place, *kind, offcut.length, offcut.length, bar.number)
        )
    for group, bar in born_offcuts(plan):
        material = group.material
        kind = (material.family, material.finish, material.part.value, material.lot)
        rows.append(("new: tag and keep", bar.tail_tag, "", *kind, bar.tail, bar.tail, bar.number))
    for offcut in untouched_offcuts(plan):
        kind = (offcut.family, offcut.finish, offcut.part.value, offcut.lot)
        rows.append(("leave", offcut.tag, offcut.place, *kind, offcut.length, offcut.length, None))
    write_list(
        book,
        "Offcuts",
        "Offcuts",
        "Fetch these before cutting; measure every new offcut before its tag is printed. "
        "Lengths of new offcuts are calculated.",
        _COLUMNS,
        rows,
        nothing="No offcut on the rack, and none is born.",
    )
