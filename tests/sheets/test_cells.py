"""Cells carry the address their user sees."""

from __future__ import annotations

import pytest

from nesting.sheets.cells import Cell, CellKind, Row, Sheet, cell_position, column_letters, text_cell


@pytest.mark.parametrize(
    ("column", "letters"), [(1, "A"), (26, "Z"), (27, "AA"), (702, "ZZ"), (703, "AAA"), (16384, "XFD")]
)
def test_column_letters(column: int, letters: str) -> None:
    """Protects every finding's address, beyond Z too."""
    assert column_letters(column) == letters


def test_an_address_leads_back_to_its_cell() -> None:
    """Protects corrections from landing in another cell, beyond Z too; 703 = 26 * 26 + 26 + 1."""
    assert cell_position("C17") == (17, 3)
    assert cell_position("AAA1") == (1, 703)
    assert cell_position("17") is cell_position("c17") is cell_position("C0") is cell_position("") is None


def test_text_cells_know_blanks_and_errors() -> None:
    """Protects against a no-break space read as a value, and an error value read as a text."""
    assert text_cell(1, 1, " \u00a0\u2009 ").kind is CellKind.EMPTY
    assert text_cell(1, 1, "#Ref!").kind is CellKind.ERROR
    assert text_cell(1, 1, " a \u00a0b ").text == "a b"


def test_rows_and_sheets() -> None:
    """Protects the look-up of cells that are not there, and the place told for those that are."""
    struck = Cell(row=7, column=3, kind=CellKind.TEXT, raw="x", struck=True)
    row = Row(number=7, cells={3: struck})
    assert row.cell(4).kind is CellKind.EMPTY
    assert row.struck
    assert not Row(number=8, cells={}).struck
    sheet = Sheet(name="Runs", rows=(row,))
    assert str(sheet.where(struck)) == "Runs!C7"
    assert str(sheet.where()) == "Runs"
