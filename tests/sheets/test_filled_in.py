"""Workbooks told apart by what would be lost with them."""

from __future__ import annotations

from pathlib import Path

import openpyxl

from nesting.sheets.filled_in import Holds, holds
from nesting.sheets.shop_report_columns import TAB
from nesting.sheets.write_plan import write_plan
from tests.batch.shop import order, planned


def test_a_plan_is_known_by_its_sheets(tmp_path: Path) -> None:
    """Protects a sheet of somebody's own that happens to have the report's name."""
    path = tmp_path / "plan.xlsx"
    write_plan(planned(order({600: 3}, bars={2000: "11.40"})), path)
    assert holds(path) is Holds.NOTHING_ELSE
    mine = openpyxl.Workbook()
    sheet = mine.active
    assert sheet is not None
    sheet.title = TAB
    sheet["A1"] = "What happened last week"
    mine.save(path)
    assert holds(path) is Holds.OTHER
