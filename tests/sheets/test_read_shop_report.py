"""Tests of nesting.sheets.read_shop_report and nesting.sheets.plan_shop_report: the sheet's round trip."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from nesting.domain.made import BarState, Span
from nesting.domain.plan import Plan
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.errors import InputRefused, Where
from nesting.sheets.read_shop_report import read_shop_report
from nesting.sheets.shop_report_columns import BLANK, PLANNED, TAB
from nesting.sheets.write_plan import write_plan
from nesting.units import mm
from tests.reports.plans import example_plan

PLAN = example_plan()
HEADINGS = [column.heading for column in (*PLANNED, *BLANK)]


def book_of(plan: Plan, folder: Path) -> tuple[Path, Any]:
    path = folder / "plan.xlsx"
    write_plan(plan, path)
    return path, openpyxl.load_workbook(path)


def row_of(sheet: Any, bar: int) -> int:
    return next(row for row in range(4, sheet.max_row + 1) if sheet.cell(row, 1).value == bar)


def fill(sheet: Any, row: int, **said: object) -> None:
    for heading, value in said.items():
        wanted = heading.replace("_", " ")
        column = next(n for n, name in enumerate(HEADINGS, 1) if name.split(" (")[0] == wanted)
        sheet.cell(row, column).value = value


def placed_nowhere(report: ShopReport) -> ShopReport:
    return replace(report, bars=tuple(replace(bar, where=Where("")) for bar in report.bars))


def test_the_plans_own_sheet_filled_in(tmp_path: Path) -> None:
    """The operator fills in the right half of the printed list, and that is the report."""
    path, book = book_of(PLAN, tmp_path)
    sheet = book[TAB]
    cuts = PLAN.groups[0].bars[1].cuts
    fill(sheet, row_of(sheet, 1), outcome="done", measured_tail="90 mm")
    fill(sheet, row_of(sheet, 2), outcome="Done", wrong_piece=cuts[0].piece, came_out=612)
    fill(sheet, row_of(sheet, 3), outcome="stopped", cuts_made=1, damage_from=1500, damage_to="1510")
    fill(sheet, row_of(sheet, 4), outcome="frozen")
    book.save(path)
    nowhere = Where("")
    assert placed_nowhere(read_shop_report(path)) == ShopReport(
        plan=PLAN.id,
        bars=(
            BarReport(bar=1, outcome=Outcome.DONE, tail=mm(90), where=nowhere),
            BarReport(bar=2, outcome=Outcome.DONE, miscuts=(Miscut(cuts[0].piece, mm(612)),), where=nowhere),
            BarReport(
                bar=3, outcome=Outcome.STOPPED, made=1, defects=(Span(mm(1500), mm(1510)),), where=nowhere
            ),
            BarReport(bar=4, outcome=Outcome.FROZEN, where=nowhere),
        ),
    )


def test_a_blank_sheet_reports_nothing(tmp_path: Path) -> None:
    """A bar that nobody fills in is open; the sheet as printed changes nothing."""
    path, _ = book_of(PLAN, tmp_path)
    assert read_shop_report(path) == ShopReport(plan=PLAN.id)


def test_every_bar_still_to_be_cut_is_listed_once(tmp_path: Path) -> None:
    """Cut bars were reported before; all others need a row."""
    group = PLAN.groups[0]
    done = replace(group, bars=(replace(group.bars[0], state=BarState.DONE), *group.bars[1:]))
    _, book = book_of(replace(PLAN, groups=(done, *PLAN.groups[1:])), tmp_path)
    numbers = [row[0] for row in book[TAB].iter_rows(min_row=4, max_col=1, values_only=True)]
    everything = [bar.number for g in PLAN.groups for bar in g.bars]
    assert numbers == sorted(set(everything) - {group.bars[0].number})


def csv_of(folder: Path, *rows: str) -> Path:
    path = folder / "report.csv"
    path.write_text("\n".join(rows), encoding="utf-8")
    return path


def test_rows_of_one_bar_are_taken_together(tmp_path: Path) -> None:
    """A bar may have two wrong pieces; the second gets a row of its own."""
    path = csv_of(
        tmp_path,
        "plan 0123456789ab",
        "Bar,Outcome,Wrong piece,Came out (in)",
        "7,done,A.1,24",
        "7,,A.2,",
    )
    report = read_shop_report(path)
    assert report.plan == "0123456789ab"
    (bar,) = report.bars
    assert bar.miscuts == (Miscut("A.1", mm("609.6")), Miscut("A.2"))
    assert bar.where == Where("report.csv", "A3")


def test_an_offcut_nobody_planned_can_be_reported_lost(tmp_path: Path) -> None:
    """Whoever looks through the rack reports what is not there, bar or no bar."""
    path = csv_of(tmp_path, "bar,source,outcome", ",offcut R-18,not found", "2,,lost")
    report = read_shop_report(path)
    assert report.lost == ("R-18",)
    assert [(bar.bar, bar.outcome) for bar in report.bars] == [(2, Outcome.NOT_FOUND)]


def test_open_said_aloud_is_open(tmp_path: Path) -> None:
    """Some people write it down."""
    assert read_shop_report(csv_of(tmp_path, "bar,outcome", "1,open", "2,done")).bars[0].bar == 2


@pytest.mark.parametrize(
    ("row", "code", "at"),
    [
        ("1,perhaps,,,,,", "outcome-not-understood", "B2"),
        ("1,,90,,,,", "no-outcome", "A2"),
        (",done,,,,,", "no-bar", "B2"),
        ("one,done,,,,,", "not-a-whole-number", "A2"),
        ("1,done,long,,,,", "not-a-length", "C2"),
        ("1,done,,,612,,", "no-piece", "E2"),
        ("1,stopped,,,,1500,", "half-a-span", "G2"),
        ("1,stopped,,,,1510,1500", "cannot-be", "F2"),
        ("1,frozen,90,,,,", "cannot-be", "A2"),
    ],
)
def test_slips_are_told_at_their_cell(row: str, code: str, at: str, tmp_path: Path) -> None:
    """What is typed at the saw with one finger is read strictly, and nothing is guessed."""
    path = csv_of(tmp_path, "bar,outcome,measured tail (mm),wrong piece,came out,damage from,damage to", row)
    with pytest.raises(InputRefused) as refused:
        read_shop_report(path)
    assert next((f.code, f.where.at) for f in refused.value.findings) == (code, at)


def test_a_short_bar_is_said_in_its_column(tmp_path: Path) -> None:
    """The one way to report a tail that no piece explains; blank and no mean that the bar was whole."""
    rows = ("1,done,85,yes", "2,done,85,", "3,done,85,no")
    report = read_shop_report(csv_of(tmp_path, "bar,outcome,measured tail (mm),bar was short", *rows))
    assert [bar.short for bar in report.bars] == [True, False, False]
    with pytest.raises(InputRefused) as refused:
        read_shop_report(csv_of(tmp_path, "bar,outcome,measured tail (mm),bar was short", "1,done,85,4 mm"))
    assert [f.code for f in refused.value.findings] == ["bar-was-short-not-understood"]


def test_a_file_without_a_report_is_refused(tmp_path: Path) -> None:
    """A run list handed in by mistake must not count as "nothing was cut"."""
    with pytest.raises(InputRefused) as refused:
        read_shop_report(csv_of(tmp_path, "run,length", "A,900"))
    assert [f.code for f in refused.value.findings] == ["no-report"]


def test_two_outcomes_of_one_bar_are_refused(tmp_path: Path) -> None:
    """Done and frozen cannot both hold."""
    with pytest.raises(InputRefused) as refused:
        read_shop_report(csv_of(tmp_path, "bar,outcome", "1,done", "1,frozen"))
    assert [f.code for f in refused.value.findings] == ["two-outcomes"]
