"""Rows of results as CSV files."""

import dataclasses
from pathlib import Path

from benchmarks.quality.row import Row
from benchmarks.rows import append, read, write
from tests.benchmarks.quality.test_row import ROW


def test_rows_come_back_as_they_were_written(tmp_path: Path) -> None:
    """Tables are made from the file; a value that changes type on the way would be counted wrongly."""
    lost = dataclasses.replace(ROW, name="lost", value=None, gap=None, bound=None, best_known=None)
    for row in (ROW, lost):
        append(tmp_path / "deep" / "rows.csv", row)
    assert read(tmp_path / "deep" / "rows.csv", Row) == (ROW, lost)


def test_a_missing_file_has_no_rows(tmp_path: Path) -> None:
    """The first run of a release starts from nothing."""
    assert read(tmp_path / "none.csv", Row) == ()


def test_writing_replaces_what_was_there(tmp_path: Path) -> None:
    """A table that is measured anew must not keep rows of the old one."""
    other = dataclasses.replace(ROW, name="other")
    for rows in ((ROW, ROW), (other,)):
        write(tmp_path / "rows.csv", rows)
    assert read(tmp_path / "rows.csv", Row) == (other,)
