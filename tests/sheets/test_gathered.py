"""The same thing said of many cells."""

from __future__ import annotations

from pathlib import Path

from nesting.sheets.read_request import read_list
from tests.sheets.messy import HEAD, Rows, runs


def test_it_is_told_once_with_all_its_cells(tmp_path: Path) -> None:
    """Three hundred lines without a job are one finding, not three hundred."""
    rows: Rows = [HEAD, *([f"A-{n}", 1, 1806, "TOLV-17N", "natural"] for n in range(3))]
    told = [f for f in read_list(runs(rows)(tmp_path)).findings if f.code == "default-job"]
    assert len(told) == 1
    assert told[0].message.endswith("Rows: 3 (A2, A3, A4).")
