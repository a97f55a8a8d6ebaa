"""Corrections stand in for cells; everything else of a list is read as it came."""

from pathlib import Path

from nesting.errors import Where
from nesting.sheets.cells import Row, Sheet
from nesting.sheets.corrections import Correction, corrected
from nesting.sheets.read_options import ReadOptions
from nesting.sheets.read_request import read_list
from nesting.units import mm

LIST = "Run,Quantity,Length (mm),Family,Finish\nA-1,2,12oo,TOLV-17N,natural\nA-2,1,900,TOLV-17N,natural\n"


def _read(folder: Path, *corrections: Correction) -> list[tuple[int, str, int | None]]:
    path = folder / "list.csv"
    path.write_text(LIST)
    outcome = read_list(path, options=ReadOptions(corrections=corrections))
    assert outcome.sheets
    return [(row.quantity, row.raw, row.length) for row in outcome.echo.rows]


def test_corrected_cell_is_read_like_a_typed_one(tmp_path: Path) -> None:
    """What a person settles on the screen counts as if it stood in the file, which stays as it came."""
    assert _read(tmp_path) == [(0, "12oo", None), (1, "900", mm(900))]
    settled = _read(tmp_path, Correction(Where("list.csv", "C2"), "1200"))
    assert settled == [(2, "1200", mm(1200)), (1, "900", mm(900))]
    assert (tmp_path / "list.csv").read_text() == LIST


def test_last_correction_of_a_cell_wins(tmp_path: Path) -> None:
    """Somebody who corrects a cell twice means the second."""
    where = Where("list.csv", "C2")
    assert _read(tmp_path, Correction(where, "1200"), Correction(where, "1300"))[0][1] == "1300"


def test_emptied_row_is_no_row(tmp_path: Path) -> None:
    """A line whose cells are all emptied is left out, not asked about."""
    empty = [Correction(Where("list.csv", f"{column}2"), "") for column in "ABCDE"]
    assert [raw for _, raw, _ in _read(tmp_path, *empty)] == ["900"]


def test_correction_of_another_sheet_or_of_no_cell_changes_nothing(tmp_path: Path) -> None:
    """A correction kept for a file that has changed meanwhile must not land elsewhere."""
    kept = _read(tmp_path)
    assert (
        _read(tmp_path, Correction(Where("Stock", "C2"), "1"), Correction(Where("list.csv", "-"), "1"))
        == kept
    )


def test_a_cell_that_was_empty_can_be_filled() -> None:
    """A missing quantity is typed where nothing stood, also in a row that was empty; rows stay in order."""
    sheet = Sheet(name="list.csv", rows=(Row(number=9, cells={}),))
    typed = (Correction(Where("list.csv", "B2"), "4"), Correction(Where("list.csv", "C9"), "900"))
    (made,) = corrected((sheet,), typed)
    assert [(row.number, row.raw) for row in made.rows] == [(2, "4"), (9, "900")]
