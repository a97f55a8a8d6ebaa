"""The catalogue sheets, where the registry of messy lists does not reach."""

from pathlib import Path

import openpyxl

from nesting.sheets.read_request import read_list


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
