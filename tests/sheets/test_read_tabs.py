"""Which sheet is which: bars must never be read as pieces to saw."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import openpyxl

from nesting.sheets.read_report import ReadOutcome
from nesting.sheets.read_request import read_list
from nesting.units import mm
from tests.sheets.messy import Rows

PIECES: Rows = [["length mm", "quantity"], [1806, 12], [904, 7]]


def outcome(folder: Path, sheets: Mapping[str, Rows]) -> ReadOutcome:
    """Read a workbook of these sheets."""
    book = openpyxl.Workbook()
    del book["Sheet"]
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    path = folder / "list.xlsx"
    book.save(path)
    return read_list(path)


def test_stock_without_a_family_serves_the_only_channel(tmp_path: Path) -> None:
    """A shop with one channel lists lengths and prices alone; they are bars, not twelve more pieces."""
    stock: Rows = [["length mm", "price", "count"], [6000, 18.6, 3], [3000, 9.9, None]]
    request = outcome(tmp_path, {"Pieces": PIECES, "Stock": stock}).accepted()
    assert [(bar.length, bar.count) for bar in request.stock] == [(mm(6000), 3), (mm(3000), None)]
    assert {bar.family for bar in request.stock} == {line.family for line in request.piece_lines}
    assert sum(line.quantity for line in request.piece_lines) == 19


def test_stock_without_a_family_takes_the_one_that_the_list_names(tmp_path: Path) -> None:
    """The lengths then belong to that channel, and it is told."""
    rows: Rows = [["length mm", "quantity", "family"], [1806, 12, "TOLV-17N"]]
    read = outcome(tmp_path, {"Pieces": rows, "Stock": [["length mm", "price"], [6000, 18.6]]})
    assert [bar.family for bar in read.accepted().stock] == ["TOLV-17N"]
    assert [(f.code, f.where.source) for f in read.findings if f.code == "default-family"] == [
        ("default-family", "Stock")
    ]


def test_stock_without_a_family_is_asked_about_where_two_are_cut(tmp_path: Path) -> None:
    """Nobody can tell whose bars they are; a guess would order the wrong channel."""
    rows: Rows = [["length mm", "quantity", "family"], [1806, 12, "TOLV-17N"], [904, 7, "BRASK-20F"]]
    read = outcome(tmp_path, {"Pieces": rows, "Stock": [["length mm", "price"], [6000, 18.6]]})
    assert "family-missing" in [finding.code for finding in read.findings if finding.severity.refuses]


def test_bars_without_a_family_are_no_family_to_choose(tmp_path: Path) -> None:
    """A line that names no channel is asked about too, and not offered a channel without a name."""
    rows: Rows = [["length mm", "quantity", "family"], [1806, 12, "TOLV-17N"], [904, 7, "BRASK-20F"], [60, 1]]
    read = outcome(tmp_path, {"Pieces": rows, "Stock": [["length mm", "price"], [6000, 18.6]]})
    bars, pieces = [f.message for f in read.findings if f.code == "family-missing"]
    assert bars.startswith("1 line(s) name no channel family; known are TOLV-17N, BRASK-20F. Write")
    assert pieces.startswith("1 line(s) name no channel family. Write")


def test_an_offcut_whose_family_is_asked_for_is_not_called_useless(tmp_path: Path) -> None:
    """It may well be used once the question is answered; two answers at one cell are one too many."""
    rows: Rows = [["length mm", "quantity", "family"], [1806, 12, "TOLV-17N"], [904, 7, "BRASK-20F"]]
    stock: Rows = [["family", "length mm"], ["TOLV-17N", 6000], ["BRASK-20F", 6000]]
    read = outcome(
        tmp_path, {"Pieces": rows, "Stock": stock, "Offcuts": [["tag", "length mm"], ["O-1", 900]]}
    )
    assert [f.code for f in read.findings if f.where.source == "Offcuts"] == ["family-missing"]


def test_a_blank_cell_under_family_is_still_refused(tmp_path: Path) -> None:
    """A column that is there and left blank in one row is a slip, not a shop with one channel."""
    stock: Rows = [["family", "length mm", "price"], [None, 6000, 18.6], ["TOLV-17N", 3000, 9.9]]
    read = outcome(tmp_path, {"Pieces": PIECES, "Stock": stock})
    assert [(f.code, f.where.at) for f in read.findings if f.severity.refuses] == [("family-missing", "A2")]


def test_offcuts_without_tags_are_not_sawn_as_pieces(tmp_path: Path) -> None:
    """A rack list that cannot be used is refused; as a list of lengths it would be cut from new bars."""
    stock: Rows = [["length mm", "price"], [6000, 18.6]]
    rack: Rows = [["length mm", "quantity"], [1650, 2]]
    read = outcome(tmp_path, {"Pieces": PIECES, "Stock": stock, "Offcuts": rack})
    assert [(f.code, f.where.source) for f in read.findings if f.severity.refuses] == [
        ("no-header", "Offcuts")
    ]
    assert len(read.echo.rows) == 2
