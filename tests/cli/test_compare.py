"""The buy advisor as its user meets it."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

from nesting.cli.app import app
from nesting.cli.compare import lengths_of
from nesting.errors import InputRefused
from nesting.units import Unit, mm

SAW = ("--kerf", "3 mm", "--head-trim", "8 mm", "--tail-loss", "8 mm")


def compare(folder: Path, *more: object) -> Result:
    """Compare 30 pieces of 659 on bars of 2000 at 10.00."""
    path = folder / "pieces.csv"
    path.write_text("id,length,quantity\nA,659 mm,30\n", encoding="utf-8")
    arguments = ["compare", path, "--bar", "2000 mm=10.00", *SAW, *more]
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


def test_an_unlisted_length_is_compared_and_written(tmp_path: Path) -> None:
    """
    A bar of 2661 just holds four: 16 + 4 x 659 + 3 x 3 = 2661, at 13.31 in line with 10.00 for 2000.

    Six of them and two of 2000 hold 24 + 6 pieces: 79.86 + 20.00 = 99.86 instead of 100.00.
    """
    book = tmp_path / "compare.xlsx"
    result = compare(tmp_path, "--length", "2661 mm", "-o", book)
    assert result.exit_code == 0, result.output
    assert "cheapest mix" in result.output
    assert "10 x 2000" in result.output
    assert "would save 0.14" in result.output
    assert openpyxl.load_workbook(book).sheetnames == ["Lengths", "Parts", "Covers"]


def test_a_range_is_tried_step_by_step() -> None:
    """2200 to 2300 by 50 are three lengths."""
    assert lengths_of(["2200..2300 by 50", "1 m"], Unit.MM) == (mm(1000), mm(2200), mm(2250), mm(2300))


@pytest.mark.parametrize("wrong", ["2200 mm..2300 mm", "1 mm..2 m by 1 mm", "long", "1 m..2 m by 0 mm"])
def test_a_range_that_is_none_is_refused(tmp_path: Path, wrong: str) -> None:
    """Exit code 2 and the option named, never a guess."""
    result = compare(tmp_path, "--length", wrong)
    assert result.exit_code == 2
    assert "--length" in result.output
    with pytest.raises(InputRefused):
        lengths_of([wrong], None)
