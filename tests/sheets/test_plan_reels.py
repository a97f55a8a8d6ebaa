"""Tests of nesting.sheets.plan_reels and nesting.sheets.plan_small_parts, read back from a real plan."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest

from nesting.batch.run import plan_request
from nesting.domain.material import Family
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.sheets.plan_reels import reels_words
from nesting.sheets.write_plan import write_plan
from nesting.units import mm

FAMILY = Family(
    name="F", strip_pitch=Fraction(mm(50)), strip_feed=mm(20), strip_tail=mm(3), strip_reel=mm(5000)
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Give two fixtures of 896: (896 - 23) / 50 are 17 marks."""
    run = Run(job="J", id="r", family="F", length=mm(896), quantity=2)
    stock = (StockLine(family="F", length=mm(2500)),)
    return plan_request(Request(runs=(run,), families=(FAMILY,), stock=stock, saw=DEFAULT_SAW))


def rows(plan: Plan, path: Path, sheet: str) -> list[tuple[object, ...]]:
    write_plan(plan, path)
    return [
        tuple(value if value is not None else "" for value in row)
        for row in openpyxl.load_workbook(path)[sheet].iter_rows(values_only=True)
    ]


def test_reels_say_where_each_cut_falls(plan: Plan, tmp_path: Path) -> None:
    """17 marks end at 850, the next 17 at 1700; 66 of 100 stay on the reel."""
    found = rows(plan, tmp_path / "p.xlsx", "Reels")
    assert found[3] == ("F", 1, 1, 17, 850, 850, "J", "r", 1, 1, "")
    assert found[4] == ("F", 1, 2, 17, 850, 1700, "J", "r", 2, 1, 66)
    assert "F: 1 reel; fewer is impossible (proved)." in str(found[1][0])
    assert reels_words(replace(plan.reels[0], bound=0)) == "F: 1 reel; at least 0 are needed."


def test_strips_say_what_one_mark_more_would_take(plan: Plan, tmp_path: Path) -> None:
    """18 marks and 23 of clearance are 923, 27 more than 896."""
    found = rows(plan, tmp_path / "p.xlsx", "Strips")
    assert found[3][-2] == "+27 mm of channel gains one more mark"


def test_small_parts_are_listed_with_their_caution(plan: Plan, tmp_path: Path) -> None:
    """The bag is packed from this sheet."""
    found = rows(plan, tmp_path / "p.xlsx", "Small parts")
    assert "qualified person" in str(found[1][0])
    assert [row[:7] for row in found[3:]] == [
        ("cap", "solid", "F", "", 4, "", "pieces"),
        ("connector", "feed, two leads", "F", "", 2, "", "pieces"),
        ("strip", "2 pieces", "F", "", "", 1.7, "m"),
    ]


def test_older_plans_have_neither_sheet(plan: Plan, tmp_path: Path) -> None:
    """An empty sheet would look as if nothing were needed."""
    path = tmp_path / "p.xlsx"
    write_plan(replace(plan, small_parts=None, reels=()), path)
    assert not {"Small parts", "Reels"} & set(openpyxl.load_workbook(path).sheetnames)
