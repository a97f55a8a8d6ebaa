"""One cell, one value, or a finding that helps."""

from __future__ import annotations

import datetime
from fractions import Fraction

import pytest

from nesting.errors import Where
from nesting.sheets.cells import Cell, CellKind, text_cell
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_values import (
    count_and_length,
    length_of,
    money_of,
    number_of,
    pitch_of,
    unit_of,
    yes_no_of,
)
from nesting.sheets.read_workbook import number_text
from nesting.units import Unit

HERE = Where("Runs", "C2")


@pytest.mark.parametrize(
    ("day", "likely"),
    [
        (datetime.date(2026, 3, 8), "3/8"),
        (datetime.date(2026, 8, 3), "3/8"),
        (datetime.date(2016, 1, 4), "1/4"),
        (datetime.date(2008, 10, 3), "10-3/8"),
    ],
)
def test_date_trap_names_the_likely_fraction(day: datetime.date, likely: str) -> None:
    """Protects the measurer: 3/8 typed by month or by day, and 10-3/8, are named as what was meant."""
    findings = Findings()
    cell = Cell(row=2, column=3, kind=CellKind.DATE, raw=day.isoformat(), day=day)
    assert length_of(cell, Unit.INCH, HERE, findings) is None
    (finding,) = findings.all
    assert finding.code == "date-in-length"
    assert f"{likely}" in finding.message.split("perhaps made from")[1]


@pytest.mark.parametrize(
    "text", ["8-Mar", "Mar-8", "8 March 2026", "2026-03-08", "2026-03-08 00:00:00", "08/03/2026"]
)
def test_dates_as_text(text: str) -> None:
    """Protects CSV exports, where the date trap has become a text."""
    findings = Findings()
    assert length_of(text_cell(2, 3, text), Unit.INCH, HERE, findings) is None
    assert [finding.code for finding in findings.all] == ["date-in-length"]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (1806, "1806"),
        (1806.0, "1806"),
        (36.3, "36.3"),
        (0.1 + 0.2, "0.3"),
        (1e15, "1" + "0" * 15),
        (1e-7, "0.0000001"),
    ],
)
def test_numbers_keep_the_digits_a_spreadsheet_shows(value: float, text: str) -> None:
    """Protects exactness: 15 digits, never the binary tail of a float."""
    assert number_text(value) == text


@pytest.mark.parametrize(
    ("text", "parted"),
    [
        ("2 @ 36 1/4", (2, "36 1/4")),
        ("2x36-1/4", (2, "36-1/4")),
        ("12 × 1200 mm", (12, "1200 mm")),
        ("2 no. 1200", (2, "1200")),
        ("1200 x 2", None),
        ("36 1/4", None),
        ("1 250 mm", None),
    ],
)
def test_count_and_length(text: str, parted: tuple[int, str] | None) -> None:
    """Protects against a count read as part of the length, and the other way round."""
    assert count_and_length(text) == parted


@pytest.mark.parametrize(
    ("text", "pitch"),
    [
        ("50 mm", Fraction(50_000_000)),
        ("50", Fraction(50_000_000)),
        # 300 marks in a reel of 5 m: 16 2/3 mm, no whole number of nanometres.
        ("5000/300 mm", Fraction(5_000_000_000, 300)),
        ("5 m / 300", Fraction(5_000_000_000, 300)),
        ("2 in", Fraction(50_800_000)),
    ],
)
def test_strip_pitch(text: str, pitch: Fraction) -> None:
    """Protects long strips: a pitch that is no whole number stays a fraction."""
    findings = Findings()
    assert pitch_of(text_cell(2, 3, text), Unit.MM, HERE, findings) == pitch
    assert not findings.all


def test_pitch_that_is_none() -> None:
    """Protects against division by no marks."""
    findings = Findings()
    assert pitch_of(text_cell(2, 3, "5000/0 mm"), Unit.MM, HERE, findings) is None
    assert findings.refuses


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("9.6", Fraction(48, 5)),
        ("9.6 W/m", Fraction(48, 5)),
        ("65e-6", Fraction(65, 10**6)),
        ("24V", 24),
        ("9,6", Fraction(48, 5)),
        ("14,40 W/m", Fraction(72, 5)),
        ("23,1e-6", Fraction(231, 10**7)),
        ("0,125", Fraction(1, 8)),
    ],
)
def test_numbers(text: str, number: Fraction) -> None:
    """Protects watts and expansions: exact, with or without their unit."""
    findings = Findings()
    assert number_of(text_cell(2, 3, text), "watts", HERE, findings) == number
    assert not findings.all


@pytest.mark.parametrize("text", ["-3", "about 9", "9,6,1", "1,250", "1.250,5", "1e999"])
def test_numbers_that_are_none(text: str) -> None:
    """Protects against a guess: what is no plain number is refused."""
    findings = Findings()
    assert number_of(text_cell(2, 3, text), "watts", HERE, findings) is None
    assert [finding.code for finding in findings.all] == ["number-not-understood"]


def test_a_comma_that_may_part_thousands_is_asked_about() -> None:
    """Protects against a factor of a thousand: both readings are named, as for prices and lengths."""
    findings = Findings()
    assert number_of(text_cell(2, 3, "1,250 W/m"), "watts", HERE, findings) is None
    assert "1250 or 1.250" in findings.all[0].message


@pytest.mark.parametrize(("text", "answer"), [("yes", True), ("X", True), ("No", False), ("0", False)])
def test_yes_and_no(text: str, answer: bool) -> None:
    """Protects the handed caps: ticks and numbers are answers too."""
    assert yes_no_of(text_cell(2, 3, text), "handed caps", HERE, Findings()) is answer


def test_neither_yes_nor_no() -> None:
    """Protects against a remark taken for an answer."""
    findings = Findings()
    assert yes_no_of(text_cell(2, 3, "perhaps"), "handed caps", HERE, findings) is None
    assert [finding.code for finding in findings.all] == ["handed-caps-not-understood"]


def test_money() -> None:
    """Protects prices: what may be thousands or decimals is asked about, what is no amount refused."""
    findings = Findings()
    assert money_of(text_cell(2, 3, "14.00"), HERE, findings) == 140_000
    assert money_of(text_cell(2, 3, "$14"), HERE, findings) == 140_000
    assert money_of(text_cell(2, 3, "1,400"), HERE, findings) is None
    assert money_of(text_cell(2, 3, "cheap"), HERE, findings) is None
    assert [finding.code for finding in findings.all] == ["amount-not-clear", "amount-not-understood"]


@pytest.mark.parametrize(
    ("text", "unit"), [("mm", Unit.MM), ("inches", Unit.INCH), ("305", None), ("length mm", None)]
)
def test_units_alone(text: str, unit: Unit | None) -> None:
    """Protects apartments from being read as units of length."""
    assert unit_of(text) is unit


def test_long_lists_are_shortened() -> None:
    """Protects the reader of a finding from a thousand addresses."""
    assert listed(["C1", "C2"]) == "C1, C2"
    assert listed([f"C{n}" for n in range(1, 13)]) == "C1, C2, C3, C4, C5, C6, C7, C8 and 4 more"
