"""What a workbook holds that would be lost with it, told by the sheets that this program writes."""

from __future__ import annotations

from enum import Enum
from pathlib import Path

from nesting.sheets.cells import Sheet
from nesting.sheets.columns import plain_words
from nesting.sheets.findings import Findings
from nesting.sheets.read_shop_report import filled_in
from nesting.sheets.read_workbook import read_workbook
from nesting.sheets.shop_report_columns import TAB, TITLE
from nesting.sheets.write_comparison import LENGTHS_TAB, LENGTHS_TITLE

_OURS = {tab: plain_words(title) for tab, title in ((TAB, TITLE), (LENGTHS_TAB, LENGTHS_TITLE))}


class Holds(Enum):
    """What a workbook is to the one who is about to replace it."""

    NOTHING_ELSE = "a plan or a comparison as it was written"
    REPORT = "a plan in which the shop has reported"
    OTHER = "somebody else's workbook, or a file that cannot be read"


def holds(path: Path) -> Holds:
    """Tell whether a workbook is one that this program wrote, and whether its Shop report is filled in."""
    sheets = read_workbook(path, Findings(), tabs=frozenset(_OURS))
    if any(sheet.name == TAB and filled_in(sheet) for sheet in sheets):
        return Holds.REPORT
    return Holds.NOTHING_ELSE if any(_ours(sheet) for sheet in sheets) else Holds.OTHER


def _ours(sheet: Sheet) -> bool:
    first = sheet.rows[0].cell(1).text if sheet.rows else ""
    return plain_words(first).startswith(_OURS[sheet.name])
