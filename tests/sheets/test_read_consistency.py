"""What sheets say beside each other fits together: families, stock, and ids told apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from nesting.sheets.read_request import read_list
from nesting.sheets.template import write_template
from tests.sheets.messy import QUICK, csv


def test_stocked_family_without_families_sheet(tmp_path: Path) -> None:
    """Protects against advice to type what was typed: the sheet is missing, the name is right."""
    path = tmp_path / "list.xlsx"
    bar = {"Family": "F", "Length": "2500 mm"}
    line = {"Run": "A-1", "Length": "1806 mm", "Family": "F"}
    write_template(path, {"Runs": [line], "Stock": [bar]})
    (message,) = [f.message for f in read_list(path).findings if f.code == "family-unknown"]
    assert "there is no Families sheet" in message
    assert "Did you mean" not in message


LINE = {"Length": "900 mm", "Family": "TOLV-17N", "Finish": "natural"}


@pytest.mark.parametrize(
    ("pieces", "duplicates"),
    [
        ("P,1,900,channel\nP,1,900,channel\n", [("duplicate-piece-id", "A3")]),
        (
            "P,1,900,channel\nP,1,880,cover\nP,1,880,cover\n",
            [("duplicate-piece-id", "A3"), ("duplicate-piece-id", "A4")],
        ),
        ("P,1,900,channel\nP,1,880,cover\n", []),
    ],
)
def test_a_piece_is_told_apart_by_its_id(
    tmp_path: Path, pieces: str, duplicates: list[tuple[str, str]]
) -> None:
    """Labels, shares and reports find a piece by job and id; two of one id would be planned as one."""
    text = "Piece,Qty,Length (mm),Part\n" + pieces
    outcome = read_list(csv(text, "pieces.csv")(tmp_path), options=QUICK)
    at = [(f.code, f.where.at) for f in outcome.findings if f.severity.refuses]
    assert at == duplicates


def test_a_run_and_a_piece_of_one_job_share_no_id(tmp_path: Path) -> None:
    """Pieces of the one would be counted for the other."""
    path = tmp_path / "list.xlsx"
    write_template(
        path,
        {
            "Runs": [{"Job": "J1", "Run": "A-1", **LINE}],
            "Pieces": [{"Job": "J1", "Piece": "A-1", **LINE}, {"Job": "J2", "Piece": "A-1", **LINE}],
            "Families": [{"Family": "TOLV-17N"}],
            "Stock": [{"Family": "TOLV-17N", "Finish": "natural", "Length": "2500 mm"}],
        },
    )
    (finding,) = [f for f in read_list(path).findings if f.severity.refuses]
    assert finding.code == "duplicate-piece-id"
    assert "Job 'J1' has a line of this id at Runs!" in finding.message


def test_a_list_of_more_pieces_than_are_planned_at_once_is_refused(tmp_path: Path) -> None:
    """21 lines of 10 000, the most of one line, are 210 000, which no search ends with."""
    path = tmp_path / "many.csv"
    path.write_text("Length (mm),Quantity\n" + "".join(f"{800 + n},10000\n" for n in range(21)))
    (found,) = [f for f in read_list(path).findings if f.code == "too-many-pieces"]
    assert (found.found, found.message) == ("210000", "At most 200000 are planned at once; split the list.")
