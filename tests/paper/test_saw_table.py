"""The saw on paper."""

from __future__ import annotations

from dataclasses import replace

from nesting.paper.flow import Stack
from nesting.reports.lengths import BothUnits
from nesting.paper.saw_table import saw_table
from nesting.paper.tables import Row
from tests.reports.plans import example_plan


def test_each_saw_has_its_column() -> None:
    """Kerf 3 mm for channels, 2.5 mm for covers; one saw for both needs one column."""
    plan = example_plan()
    first = saw_table(plan, BothUnits())[0]
    assert isinstance(first, Stack)
    row = first.blocks[-1]
    assert isinstance(row, Row)
    assert [str(c).replace("\N{NO-BREAK SPACE}", " ") for c in row.cells[:3]] == [
        "kerf (k)",
        "3 mm (~1/8 in)",
        "2.5 mm (~3/32 in)",
    ]
    alone = saw_table(replace(plan, request=replace(plan.request, cover_saw=None)), BothUnits())[1]
    assert isinstance(alone, Row)
    assert [column.title for column in alone.columns] == ["allowance", "saw", "what it is"]
