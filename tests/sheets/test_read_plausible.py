"""What is read exactly and hardly meant is warned of, never refused and never changed."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from nesting.errors import Severity
from nesting.money import read_money
from nesting.sheets.read_options import ReadOptions
from nesting.sheets.read_request import read_list, read_request
from nesting.sheets.template import write_template
from nesting.units import mm
from tests.sheets.messy import A1, HEAD, QUICK, csv, runs
from tests.sheets.test_template import ROWS


def told(path: Path, code: str, options: ReadOptions = QUICK) -> list[tuple[str, str]]:
    """Give place and message of the findings of one code."""
    return [(str(f.where), f.message) for f in read_list(path, options=options).findings if f.code == code]


def test_a_fraction_alone_in_an_opening_is_shown_with_what_is_left(tmp_path: Path) -> None:
    """Protects against 3/8 for 36 3/8: 9.525 - 2 x 1.5 for clearances - 2 x 1.5 for caps = 3.525."""
    path = tmp_path / "list.xlsx"
    line = {"Run": "A-1", "Length": "3/8 in", "Length kind": "opening", "Family": "TOLV-17N"}
    write_template(path, {**ROWS, "Runs": [{**line, "Finish": "natural"}], "Pieces": []})
    ((place, message),) = told(path, "very-short")
    assert place.startswith("Runs!")
    assert "9.525 mm" in message
    assert "leaves 3.525 mm" in message
    assert "36 3/8 in" in message


@pytest.mark.parametrize(
    ("text", "other"),
    [("1.806", "1806 mm"), ("12", "304.8 mm"), ("12 mm", "304.8 mm"), ("3/8 in", "36 3/8 in")],
)
def test_both_readings_are_given(tmp_path: Path, text: str, other: str) -> None:
    """Protects the reader of the warning: what else the cell could say stands beside what was read."""
    path = csv(f"Piece,Qty,Length (mm)\nP-1,1,{text}\n", "pieces.csv")(tmp_path)
    ((place, message),) = told(path, "very-short")
    assert place == "pieces.csv!C2"
    assert other in message


def test_plain_lengths_are_not_warned_of(tmp_path: Path) -> None:
    """Protects against warnings nobody reads: 20 mm passes, and two kerfs count where they are more."""
    path = csv("Piece,Qty,Length (mm)\nP-1,1,20\n", "pieces.csv")(tmp_path)
    assert told(path, "very-short") == []
    # 2 x 10.5 = 21 mm
    assert len(told(path, "very-short", ReadOptions(kerf=mm("10.5"), bars=QUICK.bars))) == 1


@pytest.mark.parametrize(
    ("options", "option"),
    [
        (ReadOptions(kerf=mm(0)), "--kerf"),
        (ReadOptions(kerf=mm(30)), "--kerf"),
        (ReadOptions(head_trim=mm(800)), "--head-trim"),
        (ReadOptions(tail_loss=mm(201)), "--tail-loss"),
    ],
)
def test_a_saw_no_shop_has_is_named_by_its_option(tmp_path: Path, options: ReadOptions, option: str) -> None:
    """Protects against a slip of the unit in an option."""
    path = runs([HEAD, A1])(tmp_path)
    assert [place for place, _ in told(path, "saw-value-unlikely", options)] == [f"request!{option}"]


def test_a_saw_no_shop_has_is_named_by_its_cell(tmp_path: Path) -> None:
    """Protects against a slip of the unit in the Saw sheet: 3 in for 3 mm."""
    path = runs([HEAD, A1])(tmp_path)
    book = openpyxl.load_workbook(path)
    book["Saw"]["B1"] = "3 in"
    book.save(path)
    assert [place for place, _ in told(path, "saw-value-unlikely", ReadOptions())] == ["Saw!B1"]


def test_a_bar_for_nothing_is_named(tmp_path: Path) -> None:
    """Protects the order: a price of 0 makes one length free, so every bar would be of it."""
    path = tmp_path / "list.xlsx"
    write_template(path, {**ROWS, "Stock": [{**ROWS["Stock"][0], "Price": "0"}, ROWS["Stock"][1]]})
    assert [place for place, _ in told(path, "price-zero", ReadOptions())] == ["Stock!E2"]
    bare = csv("Piece,Qty,Length (mm)\nP-1,1,1806\n", "pieces.csv")(tmp_path)
    free = ReadOptions(bars=((mm(6000), read_money("0")),))
    assert [place for place, _ in told(bare, "price-zero", free)] == ["request!--bar"]
    assert read_request(bare, options=free).stock[0].price == 0


def test_an_extra_zero_is_warned_of_at_its_cell(tmp_path: Path) -> None:
    """Protects the row from passing without a mark: 18060 for 1806 needs joints, and the cell says so."""
    path = tmp_path / "list.xlsx"
    line = {"Length": "1806 mm", "Length kind": "finished", "Family": "TOLV-17N", "Finish": "natural"}
    rows = [{**line, "Run": "A-1"}, {**line, "Run": "A-2", "Length": "18060 mm"}]
    write_template(path, {**ROWS, "Runs": rows, "Pieces": []})
    outcome = read_list(path)
    (found,) = (one for one in outcome.findings if one.code == "run-in-sections")
    assert found.severity is Severity.WARNING
    (at,) = (row.where for row in outcome.echo.rows if row.id == "A-2")
    assert found.where == at
    assert "The run of 18060 mm" in found.message
