"""The comparison as a workbook with charts."""

from __future__ import annotations

import re
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl

from nesting.advice.comparison import Comparison
from nesting.domain.material import Material, Part
from nesting.sheets.write_comparison import write_comparison
from tests.reports.test_comparison_words import COMPARISON


def test_numbers_are_numbers_and_each_sheet_has_its_chart(tmp_path: Path) -> None:
    """The purchaser sorts and sums; the charts are drawn from the same cells."""
    path = tmp_path / "compare.xlsx"
    write_comparison(COMPARISON, path, title="Orrelbeck Yard")
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == ["Lengths", "Parts", "Covers"]
    rows = [[cell.value for cell in row] for row in book["Lengths"].iter_rows(min_row=4, max_row=7)]
    assert [row[3:6] for row in rows] == [
        [1025.4, 0, None],
        [1106, 80.6, None],
        [993.2, -32.2, 19.2],
        [988.2, -37.2, 21.8],
    ]
    parts = [[cell.value for cell in row] for row in book["Parts"].iter_rows(min_row=4, max_row=5)]
    assert [row[1:4] for row in parts] == [[1, 79, 1025.4], [48, 79, 1210.8]]
    assert book["Covers"]["D4"].value == 15
    with zipfile.ZipFile(path) as package:
        assert sum(name.startswith("xl/charts/chart") for name in package.namelist()) == 3


def test_an_empty_comparison_is_a_whole_workbook(tmp_path: Path) -> None:
    """Nothing to compare is said, and no chart is drawn of it."""
    path = tmp_path / "compare.xlsx"
    write_comparison(Comparison(currency="", mixes=(), groupings=(), covers=()), path)
    book = openpyxl.load_workbook(path)
    assert book["Lengths"]["A4"].value == "Nothing to buy."
    assert book["Covers"]["A4"].value == "No cover bars are sold apart."


def test_every_material_has_its_own_chart_and_no_page_ends_in_one(tmp_path: Path) -> None:
    """A saving of 3 stays visible beside another material's cost of 1000, also on paper."""
    other = [replace(mix, material=Material("SARN-12R", "natural", Part.CHANNEL)) for mix in COMPARISON.mixes]
    path = tmp_path / "compare.xlsx"
    write_comparison(replace(COMPARISON, mixes=(*COMPARISON.mixes, *other)), path)
    with zipfile.ZipFile(path) as package:
        names = package.namelist()
        assert sum(name.startswith("xl/charts/chart") for name in names) == 4
        drawing = package.read("xl/drawings/drawing1.xml").decode()
        sheet = package.read("xl/worksheets/sheet1.xml").decode()
    # Both are of 4 rows: 90 + 26 x 4 = 194 pixels, 10 rows of 20 and one between, so one page takes both.
    starts = [int(row) for row in re.findall(r"<xdr:from>.*?<xdr:row>([0-9]+)</xdr:row>", drawing)]
    assert starts[1] - starts[0] == 11
    assert re.findall(r'<brk id="([0-9]+)"', sheet) == [str(starts[0])]
