"""The commands for plans after the first one."""

from __future__ import annotations

import json
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

from nesting.cli import app as command
from nesting.domain.made import BarState
from nesting.exchange import read_plan, write_plan, write_shop_report
from nesting.sheets.shop_report_columns import BLANK, OUTCOME, PLANNED, TAB
from nesting.sheets.write_plan import write_plan as write_workbook
from nesting.units import mm
from tests.batch.shop import bar_with, bars_of, done, order, planned, report

PLAN = planned(order({659: 3, 600: 3}, bars={2000: "11.40"}))


def run(*words: object) -> Result:
    return CliRunner().invoke(command.app, [str(word) for word in words])


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    path = tmp_path / "plan.json"
    path.write_text(write_plan(PLAN), encoding="utf-8")
    return path


def test_replan_with_a_json_report(plan_file: Path, tmp_path: Path) -> None:
    """From the report to a new plan in both formats, and its words on the screen."""
    said = tmp_path / "report.json"
    first = bar_with(PLAN, "L659.1")
    said.write_text(write_shop_report(report(PLAN, done(first, L659_1=mm(612)))), encoding="utf-8")
    out, book = tmp_path / "new.json", tmp_path / "new.xlsx"
    result = run(
        "replan", plan_file, "--report", said, "--json", out, "-o", book, "--pdf", tmp_path / "paper"
    )
    assert result.exit_code == 0, result.output
    assert (tmp_path / "paper" / "cut-sheets.pdf").read_bytes().startswith(b"%PDF")
    assert "6 pieces are ordered: 2 done, 4 planned, 0 short." in result.output
    assert "This 612" in result.output
    made = read_plan(out.read_text(encoding="utf-8"))
    assert (made.follows, made.revision) == (PLAN.id, 1)
    assert TAB in openpyxl.load_workbook(book).sheetnames
    assert run("audit", out).exit_code == 0


def test_replan_with_the_plans_own_sheet(plan_file: Path, tmp_path: Path) -> None:
    """The workbook that came with the plan is filled in and given back."""
    path = tmp_path / "plan.xlsx"
    write_workbook(PLAN, path)
    book = openpyxl.load_workbook(path)
    column = [*PLANNED, *BLANK].index(OUTCOME) + 1
    book[TAB].cell(4, column).value = "done"
    book.save(path)
    out = tmp_path / "new.json"
    assert run("replan", plan_file, "--report", path, "--json", out).exit_code == 0
    made = read_plan(out.read_text(encoding="utf-8"))
    assert [bar.state for bar in bars_of(made).values()] == [BarState.DONE, BarState.OPEN]


def test_a_report_that_does_not_fit_is_refused(plan_file: Path, tmp_path: Path) -> None:
    """Exit code 2, every finding, and no file."""
    said, out = tmp_path / "report.csv", tmp_path / "new.json"
    said.write_text("bar,outcome\n9,done\n", encoding="utf-8")
    result = run("replan", plan_file, "--report", said, "--json", out)
    assert result.exit_code == 2
    assert "no such bar" in " ".join(result.stderr.split())
    assert not out.exists()


def test_diff_says_same_or_different_by_its_exit_code(plan_file: Path, tmp_path: Path) -> None:
    """0 when equal, 1 when they differ, 2 when one cannot be read."""
    same = run("diff", plan_file, plan_file)
    assert (same.exit_code, same.output.split(":")[0]) == (0, "The plans are the same")
    tree = json.loads(plan_file.read_text(encoding="utf-8"))
    tree["groups"][0]["bars"][0]["strokes"] += 1
    other = tmp_path / "other.json"
    other.write_text(json.dumps(tree), encoding="utf-8")
    different = run("diff", plan_file, other)
    assert (different.exit_code, different.output.split()[:2]) == (1, ["Bar", "1"])
    assert run("diff", plan_file, tmp_path / "none.json").exit_code == 2


def test_the_reports_schema_is_printed() -> None:
    """Programs at the saw write their reports by it."""
    result = run("schema", "report")
    assert result.exit_code == 0
    assert json.loads(result.output)["title"] == "ShopReportDocument"
