"""Same input, same id, same bars: however the rows, the sheets or the file format were chosen."""

from __future__ import annotations

import csv
import random
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.run import plan_request
from nesting.domain.digest import in_normal_order, plan_id
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine
from nesting.domain.stock import Offcut, StockLine
from nesting.exchange import read_request as read_document
from nesting.exchange import write_request
from nesting.money import Money
from nesting.reports.plan_diff import plan_diff
from nesting.sheets.read_request import read_request
from nesting.units import mm
from tests.batch.shop import SAW

TABLES: dict[str, list[dict[str, object]]] = {
    "Runs": [
        {"Job": "OY", "Run ID": f"OY-{n}", "Family": "TOLV-17N", "Finish": "natural", "Quantity": 1 + n % 3,
         "Channel length (mm)": 500 + 37 * n, "Room": f"R{n % 2}"}
        for n in range(8)
    ],
    "Families": [{"Family": "TOLV-17N", "Cap style": "flush", "Cap thickness (mm)": 2}],
    "Stock": [
        {"Family": "TOLV-17N", "Finish": "natural", "Length (mm)": 2000, "Price": "11.40"},
        {"Family": "TOLV-17N", "Finish": "natural", "Length (mm)": 2500, "Price": "14.00"},
    ],
    "Offcuts": [
        {"Tag": f"R-{n}", "Family": "TOLV-17N", "Finish": "natural", "Length (mm)": 905} for n in range(3)
    ],
    "Saw": [],
}  # fmt: skip
SAW_ROWS = [("Kerf (mm)", 3), ("Head trim (mm)", 8), ("Tail loss (mm)", 8), ("Keep length (mm)", 400),
            ("Grip (mm)", 150), ("Step (mm)", 0), ("Currency", "XTS")]  # fmt: skip


def write_book(path: Path, sheets: list[str], *, shuffle: int | None = None) -> Path:
    """Write the tables as a workbook, its sheets in this order, rows shuffled by a seed."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name in sheets:
        sheet = book.create_sheet(name)
        if name == "Saw":
            for row in SAW_ROWS:
                sheet.append(row)
            continue
        rows = list(TABLES[name])
        if shuffle is not None:
            random.Random(shuffle).shuffle(rows)
        columns = list(rows[0])
        sheet.append(columns)
        for values in rows:
            sheet.append([values[column] for column in columns])
    book.save(path)
    return path


def write_runs_csv(path: Path) -> Path:
    """Write the runs alone, as a CSV file."""
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(TABLES["Runs"][0]))
        writer.writeheader()
        writer.writerows(TABLES["Runs"])
    return path


@pytest.fixture(scope="module")
def workbook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_book(tmp_path_factory.mktemp("book") / "list.xlsx", list(TABLES))


@pytest.fixture(scope="module")
def plan(workbook: Path) -> Plan:
    made = plan_request(read_request(workbook))
    assert len(made.pieces) == 15
    assert any(bar.offcut for group in made.groups for bar in group.bars)
    return made


def bars(made: Plan) -> list[tuple[object, ...]]:
    """Give every bar: number, source length, source tag, pieces."""
    return [
        (bar.number, bar.length, bar.source if bar.offcut else "", tuple(cut.piece for cut in bar.cuts))
        for group in made.groups
        for bar in group.bars
    ]


def assert_same(made: Plan, first: Plan) -> None:
    assert made.id == first.id
    assert bars(made) == bars(first)
    assert plan_diff(first, made) == ()


@pytest.mark.parametrize("seed", range(3))
def test_shuffled_rows(seed: int, plan: Plan, tmp_path: Path) -> None:
    """Sorting the lists by another column is no revision."""
    assert_same(plan_request(read_request(write_book(tmp_path / "s.xlsx", list(TABLES), shuffle=seed))), plan)


def test_sheets_in_another_order(plan: Plan, tmp_path: Path) -> None:
    """Moving a tab is no revision."""
    assert_same(plan_request(read_request(write_book(tmp_path / "o.xlsx", list(TABLES)[::-1]))), plan)


def test_runs_from_csv_with_the_catalogue_beside(plan: Plan, workbook: Path, tmp_path: Path) -> None:
    """The same runs exported as CSV."""
    catalogue = write_book(tmp_path / "c.xlsx", ["Families", "Stock", "Offcuts", "Saw"])
    made = plan_request(read_request(write_runs_csv(tmp_path / "runs.csv"), catalogue=catalogue))
    assert_same(made, plan)


def test_the_same_as_json(plan: Plan, workbook: Path) -> None:
    """A program that sends the request gets the plan that the office got from its workbook."""
    assert_same(plan_request(read_document(write_request(read_request(workbook)))), plan)


def test_normal_order_loses_nothing() -> None:
    """Equal rows stay as many as they were."""
    line = StockLine(family="F", length=mm(2000))
    request = Request(stock=(line, line), offcuts=(Offcut(tag="B", family="F", length=mm(9)),) * 2, saw=SAW)
    assert in_normal_order(request) == request


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(60, 1900), st.integers(1, 3)), min_size=1, max_size=5),
    st.lists(st.sampled_from([500, 900, 905, 1300]), max_size=4),
    st.lists(st.sampled_from([1900, 2000, 2500]), min_size=1, max_size=3),
    st.randoms(use_true_random=False),
)
def test_any_shuffled_request(
    pieces: list[tuple[int, int]], offcuts: list[int], lengths: list[int], rng: random.Random
) -> None:
    """Ties between like bars, offcuts and pieces are broken by what they are, not by their place."""
    request = Request(
        piece_lines=tuple(
            PieceLine(job=f"J{n % 2}", id=f"L{n}", family="F", quantity=q, length=mm(length))
            for n, (length, q) in enumerate(pieces)
        ),
        stock=tuple(StockLine(family="F", length=mm(n), price=Money(100_000)) for n in lengths),
        offcuts=tuple(Offcut(tag=f"T{n}", family="F", length=mm(cut)) for n, cut in enumerate(offcuts)),
        saw=SAW,
    )
    turned: dict[str, Any] = {
        name: tuple(rng.sample(getattr(request, name), len(getattr(request, name))))
        for name in ("piece_lines", "stock", "offcuts")
    }
    shuffled = replace(request, **turned)
    assert plan_id(shuffled, seed=0) == plan_id(request, seed=0)
    assert_same(plan_request(shuffled), plan_request(request))
