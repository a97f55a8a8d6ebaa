"""Files that a command may replace without being told to, and those that hold what nobody can make again."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

from nesting.cli import app as command
from nesting.cli.replacing import document_kept, exists_already, workbook_kept
from nesting.exchange import write_plan, write_shop_report
from nesting.sheets.plan_list import Column
from nesting.sheets.shop_report_columns import BLANK, NOTE, OUTCOME, PLANNED, TAB
from nesting.sheets.template import write_template
from nesting.sheets.write_plan import write_plan as write_workbook
from tests.batch.shop import bar_with, done, order, planned, report

PLAN = planned(order({659: 3, 600: 3}, bars={2000: "11.40"}))
BARS = ("--bar", "6000 mm=18.60", "--kerf", "3 mm", "--head-trim", "8 mm", "--tail-loss", "8 mm")


def run(*words: object) -> Result:
    """Run the command in this process."""
    return CliRunner().invoke(command.app, [str(word) for word in words])


@pytest.fixture
def pieces(tmp_path: Path) -> Path:
    """Write a short piece list."""
    path = tmp_path / "pieces.csv"
    path.write_text("id,length,quantity\nA,1806 mm,4\n", encoding="utf-8")
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Write a plan as its workbook."""
    path = tmp_path / "plan.xlsx"
    write_workbook(PLAN, path)
    return path


def fill_in(book: Path, column: Column, said: str, row: int = 4) -> None:
    """Write into the Shop report as a spreadsheet program does; bars stand from row 4 on."""
    opened = openpyxl.load_workbook(book)
    opened[TAB].cell(row, [*PLANNED, *BLANK].index(column) + 1).value = said
    opened.save(book)


@pytest.mark.parametrize(("column", "said"), [(OUTCOME, "done"), (NOTE, "the blade was changed here")])
def test_a_filled_in_shop_report_is_not_lost(pieces: Path, book: Path, column: Column, said: str) -> None:
    """Protects what the shop has written, a mere note too, from the next plan; --force gives it up."""
    fill_in(book, column, said)
    before = book.read_bytes()
    refused = run("plan", pieces, *BARS, "-o", book)
    assert (refused.exit_code, book.read_bytes()) == (2, before)
    for word in ("Shop report", "--force", "Nothing was planned"):
        assert word in " ".join(refused.output.split())
    assert run("plan", pieces, *BARS, "-o", book, "--force").exit_code == 0
    assert book.read_bytes() != before


def test_a_row_the_shop_has_added_counts(book: Path) -> None:
    """Protects a second wrong piece below the bars, in a row that the plan did not write."""
    assert workbook_kept(book) == ""
    fill_in(book, OUTCOME, "stopped", row=12)
    assert "Shop report" in workbook_kept(book)


def test_a_plan_as_it_was_written_is_replaced(pieces: Path, tmp_path: Path) -> None:
    """Protects the habit of planning again into the same files."""
    out = ("-o", tmp_path / "plan.xlsx", "--json", tmp_path / "plan.json")
    for _ in range(2):
        result = run("plan", pieces, *BARS, *out)
        assert result.exit_code == 0, result.output


def test_a_comparison_is_replaced_by_the_next_one(pieces: Path, tmp_path: Path) -> None:
    """Protects the same habit for comparisons, and a filled-in report from a comparison."""
    path = tmp_path / "compare.xlsx"
    for _ in range(2):
        result = run("compare", pieces, *BARS, "-o", path)
        assert result.exit_code == 0, result.output
    write_workbook(PLAN, path)
    fill_in(path, OUTCOME, "done")
    assert run("compare", pieces, *BARS, "-o", path).exit_code == 2


def test_other_files_are_not_replaced(pieces: Path, tmp_path: Path) -> None:
    """Protects a run list, a damaged workbook and a request from a mistyped name."""
    lists, damaged, request = tmp_path / "list.xlsx", tmp_path / "damaged.xlsx", tmp_path / "request.json"
    write_template(lists)
    damaged.write_bytes(b"mine")
    request.write_text(json.dumps({"runs": []}), encoding="utf-8")
    for option, path in (("-o", lists), ("-o", damaged), ("--json", request)):
        before = path.read_bytes()
        refused = run("plan", pieces, *BARS, option, path)
        assert (refused.exit_code, path.read_bytes()) == (2, before)
        assert "--force" in refused.output


def test_an_empty_file_is_filled(tmp_path: Path) -> None:
    """Protects scripts that make a temporary file first: there is nothing in it to lose."""
    path = tmp_path / "new"
    path.touch()
    assert (workbook_kept(path), document_kept(path)) == ("", "")
    assert exists_already(path) != ""


def test_what_is_known_of_cut_bars_is_not_lost(pieces: Path, tmp_path: Path) -> None:
    """Protects a plan after a report from a first plan; the same step taken again may replace it."""
    plan, said, after = (tmp_path / name for name in ("plan.json", "report.json", "next.json"))
    plan.write_text(write_plan(PLAN), encoding="utf-8")
    said.write_text(write_shop_report(report(PLAN, done(bar_with(PLAN, "L659.1")))), encoding="utf-8")
    for _ in range(2):
        result = run("replan", plan, "--report", said, "--json", after)
        assert result.exit_code == 0, result.output
    before = after.read_bytes()
    refused = run("plan", pieces, *BARS, "--json", after)
    assert (refused.exit_code, after.read_bytes()) == (2, before)
    assert "after a report" in " ".join(refused.output.split())


def test_a_plan_of_another_chain_is_kept(tmp_path: Path) -> None:
    """Protects one order's cut bars from another order's new plan; a first plan binds nobody."""
    path = tmp_path / "plan.json"
    path.write_text(write_plan(replace(PLAN, revision=1, follows="0123456789ab")), encoding="utf-8")
    assert document_kept(path, follows="0123456789ab") == ""
    assert document_kept(path, follows="ba9876543210") != ""
    path.write_text(write_plan(PLAN), encoding="utf-8")
    assert document_kept(path, follows="ba9876543210") == ""
