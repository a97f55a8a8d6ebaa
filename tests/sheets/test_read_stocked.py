"""Rows that no bar can serve are told before anything is planned."""

from __future__ import annotations

from pathlib import Path

from nesting.domain.material import Part
from nesting.sheets.read_request import read_list
from nesting.sheets.template import write_template
from tests.sheets.messy import A1, HEAD, QUICK, Rows, runs


def test_separate_covers_need_bars_too(tmp_path: Path) -> None:
    """Protects the cover order: a cover cut on its own needs stock, one cut with its channel does not."""
    rows: Rows = [HEAD, ["A-1", 1, 1806, "SEP", "natural"]]
    outcome = read_list(
        runs(rows, families=[["SEP", "flush"]], stock=[["SEP", "natural", 2500]])(tmp_path), options=QUICK
    )
    assert outcome.request is not None
    assert {bar.part for bar in outcome.request.stock} == {Part.CHANNEL}
    write_template(
        tmp_path / "covers.xlsx",
        {
            "Runs": [{"Run": "A-1", "Length": "1806 mm", "Family": "SEP", "Finish": "natural"}],
            "Families": [{"Family": "SEP", "Cover mode": "separate"}],
            "Stock": [{"Family": "SEP", "Finish": "natural", "Length": "2500 mm"}],
        },
    )
    refused = read_list(tmp_path / "covers.xlsx")
    assert [f.found for f in refused.findings if f.code == "not-stocked"] == ["SEP natural cover"]


def test_rows_without_stock_are_counted(tmp_path: Path) -> None:
    """The user looks for two lines, and has to know when they are all found."""
    umber = [["A-2", 1, 598, "TOLV-17N", "umber"], ["A-3", 1, 700, "TOLV-17N", "umber"]]
    outcome = read_list(runs([HEAD, A1, *umber])(tmp_path))
    (finding,) = [finding for finding in outcome.findings if finding.code == "not-stocked"]
    assert "TOLV-17N channel is stocked in: natural." in finding.message
    assert "Rows: 2 (Runs!E3, Runs!E4)." in finding.message


def test_a_length_without_a_price_is_named_with_or_without_a_finish(tmp_path: Path) -> None:
    """The material is looked up in the list as it is spelled there, without a gap for what it has not."""
    line = {"Family": "TOLV-17N", "Length": "2000 mm"}
    path = tmp_path / "list.xlsx"
    write_template(
        path,
        {
            "Pieces": [{"Piece": "P-1", "Length": "900 mm", "Family": "TOLV-17N"}],
            "Stock": [{**line, "Price": "14.00"}, {**line, "Length": "2500 mm"}],
        },
    )
    found = [f.found for f in read_list(path).findings if f.code == "some-prices-missing"]
    assert found == ["TOLV-17N channel"]
