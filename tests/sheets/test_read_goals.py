"""Second goals, priorities and days as people type them, and the way back through the workbook."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from nesting.domain.goals import PLAIN_GOALS, Goals, Slivers
from nesting.domain.status import Purpose
from nesting.errors import InputRefused, Where
from nesting.money import read_money
from nesting.sheets.cells import Cell, CellKind
from nesting.sheets.findings import Findings
from nesting.sheets.read_goals import due_of, goals_of, priority_of
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template

HERE = Where("Runs", "C2")


def cell(text: str) -> Cell:
    """Give a cell with some text."""
    return Cell(row=2, column=3, kind=CellKind.TEXT if text else CellKind.EMPTY, raw=text)


def saw(**values: str) -> list[dict[str, str]]:
    """Give a Saw sheet's rows by name."""
    return [{"Name": name.replace("_", " "), "Value": value} for name, value in values.items()]


def written(path: Path, goals: list[dict[str, str]], **run: str) -> Path:
    """Write a workbook of one run with some lines of the Saw sheet."""
    rows = {
        "Runs": [{"Run": "R1", "Length": "1200 mm", "Family": "TOLV", **run}],
        "Families": [{"Family": "TOLV"}],
        "Stock": [{"Family": "TOLV", "Length": "2500 mm"}],
        "Saw": goals,
    }
    write_template(path, rows)
    return path


def test_goals_come_back_from_the_saw_sheet(tmp_path: Path) -> None:
    """What a shop types into its template is what is planned for."""
    lines = saw(Bars_clamped_at_once="4", Slivers="forbid", Fewer_patterns="yes", Few_open_units="yes")
    lines += saw(One_long_tail="yes")
    request = read_request(written(tmp_path / "a.xlsx", lines))
    goals = Goals(fewer_patterns=True, gang=4, open_units=True, long_tail=True, slivers=Slivers.FORBID)
    assert request.goals == goals


def test_an_empty_template_asks_for_nothing(tmp_path: Path) -> None:
    """Lines left blank must not change a plan."""
    request = read_request(written(tmp_path / "a.xlsx", []))
    assert (request.goals, request.runs[0].priority, request.runs[0].due) == (PLAIN_GOALS, 0, "")


def test_priority_and_day_come_back(tmp_path: Path) -> None:
    """The columns of a run list reach the run."""
    request = read_request(written(tmp_path / "a.xlsx", [], Priority="3", Due="2027-03-31"))
    assert (request.runs[0].priority, request.runs[0].due) == (3, "2027-03-31")


@pytest.mark.parametrize(
    ("text", "priority", "codes"),
    [
        ("", 0, []),
        ("7", 7, []),
        ("-1", -1, []),
        ("RUSH", 1, []),
        ("normal", 0, []),
        ("Low", -1, []),
        ("whenever", 0, ["priority-not-understood"]),
        ("1.5", 0, ["priority-not-understood"]),
    ],
)
def test_priorities(text: str, priority: int, codes: list[str]) -> None:
    """Numbers and the usual words are read; anything else is told and counts as 0."""
    findings = Findings()
    assert priority_of(cell(text), HERE, findings) == priority
    assert [finding.code for finding in findings.all] == codes


@pytest.mark.parametrize(
    ("text", "due", "codes"),
    [
        ("", "", []),
        ("2027-03-31", "2027-03-31", []),
        ("2027-03-31 00:00:00", "2027-03-31", []),
        ("18.12.2026", "2026-12-18", []),
        ("12/18/2026", "2026-12-18", []),
        ("3.3.2027", "2027-03-03", []),
        ("3/4/2027", "", ["date-not-understood"]),
        ("04.12.2026", "", ["date-not-understood"]),
        ("18.13.2026", "", ["date-not-understood"]),
        ("18.12.26", "", ["date-not-understood"]),
        ("2027-02-30", "", ["date-not-understood"]),
    ],
)
def test_days(text: str, due: str, codes: list[str]) -> None:
    """3/4 is March or April: only a day that means one thing is read, nothing is guessed."""
    findings = Findings()
    assert due_of(cell(text), HERE, findings) == due
    assert [finding.code for finding in findings.all] == codes


@pytest.mark.parametrize(
    ("name", "text"), [("gang", "0"), ("gang", "100"), ("slivers", "some"), ("open_units", "2")]
)
def test_goals_that_are_not_understood_refuse_the_list(name: str, text: str) -> None:
    """A goal that was meant and not read would be missed only at the saw."""
    findings = Findings()
    assert goals_of({name: cell(text)}, lambda _: HERE, findings) == PLAIN_GOALS
    assert findings.refuses


def test_a_gang_of_nothing_refuses_the_workbook(tmp_path: Path) -> None:
    """The whole way: the finding names the cell."""
    with pytest.raises(InputRefused) as refused:
        read_request(written(tmp_path / "a.xlsx", saw(Bars_clamped_at_once="0")))
    assert [finding.where.source for finding in refused.value.findings if finding.severity.refuses] == ["Saw"]


def test_goals_are_a_part_of_what_is_asked(tmp_path: Path) -> None:
    """Two sheets that differ in one goal are two requests."""
    one = read_request(written(tmp_path / "a.xlsx", saw(Slivers="forbid")))
    two = read_request(written(tmp_path / "b.xlsx", []))
    assert replace(one, goals=PLAIN_GOALS).goals == two.goals
    assert one.goals != two.goals


@pytest.mark.parametrize(("said", "purpose"), [("cut", Purpose.CUT), ("Ordering", Purpose.ORDER)])
def test_what_the_plan_is_for_comes_from_the_saw_sheet(tmp_path: Path, said: str, purpose: Purpose) -> None:
    """A shop that fills in its template says there that unmeasured sizes are not for cutting."""
    assert read_request(written(tmp_path / "a.xlsx", saw(Plan_for=said))).purpose is purpose


def test_a_purpose_nobody_knows_is_refused(tmp_path: Path) -> None:
    """Taken for an order it would cut drawing sizes."""
    with pytest.raises(InputRefused) as refused:
        read_request(written(tmp_path / "a.xlsx", saw(Plan_for="site")))
    assert "purpose-not-understood" in {finding.code for finding in refused.value.findings}


def test_budget_least_order_and_weight_come_back(tmp_path: Path) -> None:
    """What the purchase summary compares with is typed beside the saw."""
    path = written(tmp_path / "a.xlsx", saw(Budget="3000", Least_order_sum="150.00"))
    buying = read_request(path).buying
    assert (buying.budget, buying.least_order) == (read_money("3000"), read_money("150"))
    rows = {
        "Runs": [{"Run": "R1", "Length": "1200 mm", "Family": "TOLV"}],
        "Families": [{"Family": "TOLV", "Weight (kg/m)": "0.27"}],
        "Stock": [{"Family": "TOLV", "Length": "2500 mm"}],
    }
    write_template(tmp_path / "b.xlsx", rows)
    assert read_request(tmp_path / "b.xlsx").families[0].weight == Fraction(27, 100)
