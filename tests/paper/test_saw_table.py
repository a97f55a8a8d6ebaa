"""The saw on paper."""

from __future__ import annotations

from dataclasses import replace

from nesting.errors import Finding, Severity, Where
from nesting.paper.flow import Following, Stack
from nesting.paper.saw_table import saw_table
from nesting.paper.tables import Row
from nesting.reports.lengths import BothUnits
from tests.reports.plans import example_plan


def rows_in(table: Stack) -> list[Row]:
    """Give the rows below the first, which stands with its headings."""
    inner = [block.block for block in table.blocks if isinstance(block, Following)]
    return [row for row in inner if isinstance(row, Row)]


def test_each_saw_has_its_column() -> None:
    """Kerf 3 mm for channels, 2.5 mm for covers; one saw for both needs one column."""
    plan = example_plan()
    (first,) = saw_table(plan, BothUnits())
    assert isinstance(first, Stack)
    row = first.blocks[0].blocks[-1] if isinstance(first.blocks[0], Stack) else None
    assert isinstance(row, Row)
    assert [str(c).replace("\N{NO-BREAK SPACE}", " ") for c in row.cells[:3]] == [
        "kerf (k)",
        "3 mm (~1/8 in), given",
        "2.5 mm (~3/32 in), given",
    ]
    (whole,) = saw_table(replace(plan, request=replace(plan.request, cover_saw=None)), BothUnits())
    assert isinstance(whole, Stack)
    alone = rows_in(whole)[0]
    assert [column.title for column in alone.columns] == ["allowance", "saw", "what it is"]


def test_common_values_are_told_from_given_ones_and_never_parted() -> None:
    """A reader's finding marks what was taken; one stack is one page."""
    plan = example_plan()
    taken = Finding(
        severity=Severity.WARNING, code="default-head-trim", where=Where("Saw"), found="", message="taken"
    )
    request = replace(plan.request, cover_saw=None, findings=(taken,))
    (whole,) = saw_table(replace(plan, request=request), BothUnits())
    assert isinstance(whole, Stack)
    assert [str(row.cells[1]).rpartition(", ")[2] for row in rows_in(whole)] == [
        "common value",
        *["given"] * 4,
    ]
