"""The catalogue sheets, where the registry of messy lists does not reach."""

from pathlib import Path

import openpyxl

from nesting.sheets.read_request import read_list
from nesting.sheets.template import write_template


def test_a_repeated_family_does_not_hide_its_own_faults(tmp_path: Path) -> None:
    """All findings at once: the name that stands twice and the cell that is no length."""
    book = openpyxl.Workbook()
    runs = book.active
    assert runs is not None
    runs.title = "Runs"
    runs.append(["Run", "Length (mm)", "Family"])
    runs.append(["A", 900, "T"])
    families = book.create_sheet("Families")
    families.append(["Family", "Cap style", "Cap thickness (mm)"])
    families.append(["T", "flush", 2])
    families.append(["T", "flush", "abc"])
    stock = book.create_sheet("Stock")
    stock.append(["Family", "Length (mm)"])
    stock.append(["T", 2500])
    path = tmp_path / "list.xlsx"
    book.save(path)
    refusing = {str(f.where) for f in read_list(path).findings if f.severity.refuses}
    assert refusing == {"Families!A3", "Families!C3"}


def test_the_age_of_an_offcut_is_read(tmp_path: Path) -> None:
    """The oldest of equal offcuts is cut first; a day nobody understands is told and counts as none."""
    rack = [{"Tag": "A", "Family": "T", "Length": "640 mm", "Born": "2026-05-01"}]
    rack.append({"Tag": "B", "Family": "T", "Length": "640 mm", "Born": "spring"})
    rows = {
        "Runs": [{"Run": "R1", "Length": "600 mm", "Family": "T"}],
        "Families": [{"Family": "T"}],
        "Stock": [{"Family": "T", "Length": "2500 mm"}],
        "Offcuts": rack,
    }
    write_template(tmp_path / "list.xlsx", rows)
    outcome = read_list(tmp_path / "list.xlsx")
    assert outcome.request is not None
    assert [offcut.born for offcut in outcome.request.offcuts] == ["2026-05-01", ""]
    assert "date-not-understood" in {finding.code for finding in outcome.findings}
