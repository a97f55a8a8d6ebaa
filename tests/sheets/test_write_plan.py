from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import range_boundaries

from nesting.domain.buying import BuyingRules
from nesting.domain.plan import Plan
from nesting.domain.runs import Place
from nesting.domain.status import Status
from nesting.errors import Finding, Severity, Where
from nesting.money import read_money
from nesting.reports.completion import unit_rows, units_words
from nesting.sheets.plan_bar_band import GRID
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_pieces import write_pieces
from nesting.sheets.plan_summary import write_summary
from nesting.sheets.write_plan import write_plan
from nesting.units import mm
from tests.reports.plans import empty_plan, example_plan

PLAN = example_plan()
NAMES = [
    "Summary",
    "Order",
    "Cut list",
    "Pieces",
    "Strips",
    "Offcuts",
    "Jobs",
    "Findings",
    "Unplaced",
    "Shop report",
]


def read_back(plan: Plan, folder: Path) -> Any:
    path = folder / "plan.xlsx"
    write_plan(plan, path)
    return openpyxl.load_workbook(path)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Any:
    return read_back(PLAN, tmp_path_factory.mktemp("book"))


def rows_of(sheet: Any, first: int = 1) -> list[list[Any]]:
    return [[cell.value for cell in row] for row in sheet.iter_rows(min_row=first)]


def texts_of(sheet: Any) -> list[str]:
    return [cell.value for row in sheet.iter_rows() for cell in row if isinstance(cell.value, str)]


def test_the_sheets_come_in_reading_order(book: Any) -> None:
    """The answer first, the order next, then the saw's list, then everything behind them."""
    assert book.sheetnames == NAMES


def test_an_empty_plan_is_a_whole_workbook(tmp_path: Path) -> None:
    """Every sheet exists and says that it is empty."""
    book = read_back(empty_plan(), tmp_path)
    assert book.sheetnames == NAMES
    assert "Nothing to cut, nothing to order." in texts_of(book["Summary"])
    assert "Nothing to cut." in texts_of(book["Cut list"])
    assert "Nothing is left out." in texts_of(book["Unplaced"])
    assert texts_of(book["Pieces"])[-1] == "No pieces."


def test_the_summary_begins_with_the_loudest_words(book: Any) -> None:
    """What is left out stands right under the title, in a heavy box."""
    cell = book["Summary"]["A3"]
    assert cell.value.startswith("NOT COMPLETE: 1 PIECE IS NOT PLACED.")
    assert (cell.font.bold, cell.border.top.style) == (True, "thick")
    assert "plan 7c1f2e90ab34   seed 7   38 pieces   19 bars" in texts_of(book["Summary"])


def test_the_summary_accounts_for_every_millimetre(book: Any) -> None:
    """Used = good + kerf + trim + returned + scrap holds for the numbers in the cells."""
    rows = [row for row in rows_of(book["Summary"]) if isinstance(row[2], int | float) and row[9] is not None]
    assert [row[0] for row in rows] == [*(str(g.material) for g in PLAN.groups), "all"]
    for row in rows:
        used, *parts = row[2:8]
        assert used == pytest.approx(sum(parts), abs=1e-6)
    assert rows[-1][2] == 50409.5


def test_order_numbers_are_numbers_and_add_up(book: Any) -> None:
    """The purchaser can sum the columns; 55.80 + 11.40 + 98.00 = 165.20."""
    sheet = book["Order"]
    lines = [row for row in rows_of(sheet, 4) if isinstance(row[11], int)]
    assert [(row[0], row[4], row[11], row[15]) for row in lines] == [
        ("BRASK-20F", 3000, 3, 55.8),
        ("SARN-12R", 3500, 3, None),
        ("SARN-12R", 3000, 3, None),
        ("TOLV-17N", 2000, 1, 11.4),
        ("TOLV-17N", 2500, 7, 98),
        ("total", None, 17, 165.2),
    ]
    assert any("No cheaper plan cuts these pieces (proved)." in text for text in texts_of(sheet))
    assert any("2.9 % (3.20 XTS) from the best possible" in text for text in texts_of(sheet))
    assert "Longest bar: 3500 mm (~137 51/64 in). Check carton, lift and stair." in texts_of(sheet)


def test_an_order_from_the_rack_alone_has_no_total(tmp_path: Path) -> None:
    """Nothing to order is said in words, not as a row of zeros."""
    tolv = replace(PLAN.groups[3], bars=PLAN.groups[3].bars[:2])
    sheet = read_back(replace(PLAN, groups=(tolv,), order=()), tmp_path)["Order"]
    assert texts_of(sheet)[-1] == "Nothing to order."
    assert not any(row[0] == "total" for row in rows_of(sheet))


def test_an_order_with_every_price_has_a_plain_total(tmp_path: Path) -> None:
    """The remark about missing prices stands only where one is missing; no price at all leaves no sum."""
    whole = tuple(line for line in PLAN.order if line.sum is not None)
    bare = tuple(line for line in PLAN.order if line.sum is None)
    for lines, expected in ((whole, (165.2, None)), (bare, (None, "2 line(s) without a price"))):
        rows = rows_of(read_back(replace(PLAN, order=lines), tmp_path)["Order"])
        total = next(row for row in rows if row[0] == "total")
        assert (total[15], total[17]) == expected


def test_the_order_of_a_re_plan_asks_only_for_what_is_new(tmp_path: Path) -> None:
    """3 bars at 18.60 in all, two of them ordered; the 14 others are ordered too: 18.60 is still to pay."""
    first, *rest = PLAN.order
    others = tuple(replace(line, ordered=line.bars) for line in rest)
    plan = replace(PLAN, order=(replace(first, ordered=2), *others), follows="a" * 12, revision=1)
    book = read_back(plan, tmp_path)
    rows = rows_of(book["Order"], 3)
    assert rows[0][11] == "bars in all"
    assert rows[0][16:18] == ["ordered with plans before", "still to order"]
    assert (rows[1][11], rows[1][16:19]) == (3, [2, 1, 18.6])
    total = next(row for row in rows if row[0] == "total")
    assert (total[11], total[15:19]) == (17, [165.2, 16, 1, 18.6])
    for sheet in ("Summary", "Order"):
        assert any("order only 1 bar of 3000 mm" in text for text in texts_of(book[sheet]))


def test_a_budget_that_does_not_hold_is_loud_on_the_first_page(tmp_path: Path) -> None:
    """165.20 of 100.00: the Summary says so in bold; what is left of a larger budget stands there plainly."""
    for budget, words, bold in (("100.00", "65.20 XTS OVER", True), ("200.00", "34.80 XTS of", False)):
        rules = BuyingRules(budget=read_money(budget))
        plan = replace(PLAN, request=replace(PLAN.request, buying=rules))
        sheet = read_back(plan, tmp_path)["Summary"]
        (cell,) = (c for row in sheet.iter_rows() for c in row if str(c.value).startswith(words))
        assert bool(cell.font.bold) is bold


def test_texts_that_look_like_formulas_stay_texts(book: Any) -> None:
    """A note from a list must never be calculated, neither on opening nor after an edit."""
    cells = [c for row in book["Pieces"].iter_rows() for c in row if str(c.value).startswith(("=", "-1/2"))]
    assert {c.value for c in cells} == {"=see drawing 12", "-1/2 rev C"}
    assert {c.data_type for c in cells} == {"s"}
    assert all(c.quotePrefix for c in cells)
    formulas = [c for ws in book for row in ws.iter_rows() for c in row if c.data_type == "f"]
    assert formulas == []


def test_hostile_texts_do_not_break_the_file(tmp_path: Path) -> None:
    """Control characters, half characters, ampersands in the footer: the file opens and shows a mark."""
    hostile = "bad\x00\x1b\ud800 & <b>\t=1+1"
    request = replace(PLAN.request, title=hostile)
    book = read_back(replace(PLAN, request=request), tmp_path)
    assert book["Summary"]["A1"].value == "bad\ufffd\ufffd\ufffd & <b> =1+1"
    # A doubled ampersand prints as one; a single one would be an instruction to the printer.
    assert "&& <b>" in book["Summary"].oddFooter.left.text


def test_every_piece_is_listed_with_its_bar_and_the_users_columns(book: Any) -> None:
    """One row per piece, plus the run that never became one; extra columns come back."""
    sheet = book["Pieces"]
    headings = [cell.value for cell in sheet[3]]
    rows = {row[0]: dict(zip(headings, row, strict=True)) for row in rows_of(sheet, 4)}
    assert set(rows) == {p.id for p in PLAN.pieces} | {"R-7"}
    desk = rows["OY-305-4"]
    assert (desk["exact (mm)"], desk["exact (inch)"], desk["cut (mm)"]) == (920.75, "36 1/4", 920.5)
    assert desk["size is"] == "measured"
    assert (desk["bar"], desk["cut no."], desk["Room (yours)"], desk["room"]) == (17, 1, "DESK", "desk")
    assert rows["R-7"]["not placed because"] == "Longer than any bar, and joints are off for this run."
    assert rows["R-7"]["bar"] is None
    assert sheet.auto_filter.ref == "A3:AB42"


def test_the_printed_pieces_say_their_building_and_what_is_left_out_its_door(tmp_path: Path) -> None:
    """On paper unit 101 of two buildings was one unit, and a run on hold was of no unit at all."""
    place = Place("South", "1", "101", "hall", "niche")
    (out,) = (one for one in PLAN.unplaced if one.run == "R-7")
    held = replace(PLAN.request.runs[0], job=out.job, id=out.run, place=place, status=Status.HOLD)
    runs = (*(run for run in PLAN.request.runs if run.id != out.run), held)
    book = Book("foot")
    write_pieces(book, replace(PLAN, request=replace(PLAN.request, runs=runs)))
    sheet = openpyxl.load_workbook(BytesIO(book.finish()))["Pieces"]
    headings = [cell.value for cell in sheet[3]]
    (row,) = (dict(zip(headings, row, strict=True)) for row in rows_of(sheet, 4) if row[0] == "R-7")
    assert [row[name] for name in ("piece", "building", "floor", "unit", "room", "spot", "size is")] == [
        *("R-7", "South", "1", "101", "hall", "niche", "hold")
    ]
    printed = range_boundaries(str(sheet.print_area).split("!")[-1].replace("$", ""))
    assert headings.index("building") < printed[2]


def test_numbers_carry_the_decimals_they_need(book: Any) -> None:
    """1803.5 is shown with one decimal, 592 with none: exact, and nothing to misread."""
    sheet = book["Pieces"]
    column = [cell.value for cell in sheet[3]].index("cut (mm)") + 1
    formats = {sheet.cell(r, column).value: sheet.cell(r, column).number_format for r in range(4, 43)}
    assert (formats[1803.5], formats[592]) == ("0.0", "0")


def test_strips_say_what_one_more_mark_takes(book: Any) -> None:
    """1839 - 1803.5 = 35.5 mm more channel gains a mark."""
    row = rows_of(book["Strips"], 4)[0]
    assert row[:4] == ["OY", "TOLV-17N", 2, 35]
    assert row[-2:] == ["+35.5 mm of channel gains one more mark", "OY-304-1 (2)"]


def test_equal_strips_stand_in_one_line_with_all_their_runs(tmp_path: Path) -> None:
    """Three hundred runs of one type are one length to cut; none of their names may be lost."""
    first, other = PLAN.strips
    names = ("OY-304-1", "OY-305-1", "OY-404-1", "OY-405-1")
    strips = (*(replace(first, run=name, quantity=1) for name in names), other)
    rows = rows_of(read_back(replace(PLAN, strips=strips), tmp_path)["Strips"], 4)
    assert [(row[2], row[-1]) for row in rows] == [(4, ", ".join(names)), (1, "OY-305-4")]


def test_no_run_of_a_strip_is_hidden_below_its_row(tmp_path: Path) -> None:
    """Sixty runs in one line are read whole: no id is broken, and the row is as high as its lines."""
    names = [f"NEW-{flat}-1" for flat in range(301, 361)]
    strips = tuple(replace(PLAN.strips[0], run=name, quantity=1, channel=mm("1803.5")) for name in names)
    sheet = read_back(replace(PLAN, strips=strips), tmp_path)["Strips"]
    said = str(sheet.cell(4, 12).value)
    lines = said.split("\n")
    assert " ".join(lines).split(", ") == names
    assert sheet.row_dimensions[4].height >= 11.5 * len(lines)


def test_offcuts_are_a_pick_list_then_tags_then_the_rest(book: Any) -> None:
    """Fetch first, tag what is born, leave what nobody needs."""
    rows = [(row[0], row[1], row[9]) for row in rows_of(book["Offcuts"], 4)]
    assert rows[:2] == [("fetch and cut", "OC-0112", 10), ("fetch and cut", "OC-0107", 11)]
    assert rows[2] == ("new: tag and keep", "7C1F-3", 3)
    assert rows[-1][:2] == ("leave", "OC-0098")
    assert len(rows) == 2 + 7 + 1


def test_jobs_add_up_to_the_plan(book: Any) -> None:
    """The last row is the exact sum of pieces, metres and money."""
    *jobs, total = rows_of(book["Jobs"], 4)[:3]
    assert [row[0] for row in jobs] == ["OY", "RUSH"]
    assert total[1] == 38
    assert total[3] == (PLAN.totals.used - PLAN.totals.returned) / 1e9
    assert total[5] == 165.2


def test_jobs_of_a_plan_without_prices_cost_nothing_known(tmp_path: Path) -> None:
    """A cost of 0.00 would say that the bars are free: the cells stay empty."""
    plan = replace(PLAN, groups=PLAN.groups[1:3])
    for row in rows_of(read_back(plan, tmp_path)["Jobs"], 4)[:3]:
        assert row[5:] == [None, None]


def test_every_unit_says_after_which_bar_it_is_complete(book: Any) -> None:
    """The packer sees below the jobs what can go; the unit that lacks R-7 never can."""
    rows = rows_of(book["Jobs"], 8)
    assert rows[0][0] == "Units"
    found = [(row[0], row[3], row[4]) for row in rows[3:]]
    expected: list[tuple[Any, ...]] = [
        (f"{unit.job}, {unit.unit or 'no unit named'}", unit.after, None)
        for unit in unit_rows(PLAN)
        if not unit.missing
    ]
    assert found == [*expected, ("RUSH, no unit named", "never in this plan", 1)]
    assert units_words(PLAN) in texts_of(book["Summary"])


def test_what_is_left_out_names_its_fixture(book: Any) -> None:
    """A missing piece is a missing fixture, and the fitter asks for fixtures."""
    headings = [cell.value for cell in book["Unplaced"][3]]
    row = dict(zip(headings, rows_of(book["Unplaced"], 4)[0], strict=True))
    assert row["fixture"] == "fixture R-7 is not made"
    assert "Because of that: fixture R-7 is not made." in texts_of(book["Summary"])


def test_assumed_values_are_kept_together_and_say_where_they_come_from(tmp_path: Path) -> None:
    """Wherever the answer ends, no page breaks inside the table; given values are told from taken ones."""
    taken = Finding(
        severity=Severity.WARNING, code="default-grip", where=Where("Saw"), found="", message="taken"
    )
    request = replace(PLAN.request, findings=(taken,))
    for count in (1, 8, 12, 16):
        book = Book("foot")
        write_summary(book, replace(PLAN, request=request, groups=PLAN.groups[:1] * count))
        sheet = openpyxl.load_workbook(BytesIO(book.finish()))["Summary"]
        firsts = {sheet.cell(row, 1).value: row for row in range(1, sheet.max_row + 1)}
        top, bottom = firsts["Assumed"], firsts["saw step"]
        assert not any(top <= b.id < bottom for b in sheet.row_breaks.brk)
        said = [sheet.cell(row, 5).value for row in range(top, bottom + 1)]
        assert said.count("common value") == 2  # both saws
        assert said.count("given") == 10


def test_a_long_title_runs_into_nothing_at_the_foot(tmp_path: Path) -> None:
    """The title stands on a line above plan, sheet and page, and is shortened where a page is narrow."""
    request = replace(PLAN.request, title="Orrelbeck Yard & Sons, north wing " * 20)
    book = read_back(replace(PLAN, request=request), tmp_path)
    for name, most in (("Order", 100), ("Jobs", 68)):
        title, foot = book[name].oddFooter.left.text.split("\n")
        assert len(title.replace("&&", "&")) == most
        assert title.endswith("…")
        assert foot == "plan 7c1f2e90ab34"
        assert book[name].oddFooter.center.text.strip() == name


def test_findings_keep_the_users_place_and_words(book: Any) -> None:
    """The hardest finding first, with the cell as the user sees it."""
    assert [row[:3] for row in rows_of(book["Findings"], 4)] == [
        ["warning", "Runs!A12", "OY-305-2"],
        ["note", "Runs!K9", "-1/2 at the wall"],
    ]
    assert rows_of(book["Unplaced"], 4)[0][3] == 5400


@pytest.mark.parametrize("name", NAMES[1:])
def test_headings_repeat_on_every_page_and_stay_in_view(book: Any, name: str) -> None:
    """A page without headings is a page to misread."""
    sheet = book[name]
    assert sheet.print_title_rows == "$1:$3"
    assert sheet.freeze_panes in ("A4", "B4")
    assert sheet.page_setup.paperSize == 9


@pytest.mark.parametrize("name", NAMES)
def test_every_page_names_its_plan_and_number(book: Any, name: str) -> None:
    """A loose sheet on the saw leads back to its plan."""
    footer = book[name].oddFooter
    assert "plan 7c1f2e90ab34" in footer.left.text
    assert footer.right.text.strip() == "page &P of &N"


def test_the_longest_bar_fills_the_grid(book: Any) -> None:
    """The cut list prints on one page's width: nothing lies outside the grid."""
    assert book["Cut list"].max_column == GRID


def test_an_unwritable_path_is_an_os_error(tmp_path: Path) -> None:
    """The caller learns that the folder is missing from the usual error."""
    with pytest.raises(OSError, match="nowhere"):
        write_plan(PLAN, tmp_path / "nowhere" / "plan.xlsx")


def test_bars_from_the_rack_are_named_in_the_order(book: Any) -> None:
    """Two offcuts are bars 10 and 11; their tags are on their own sheet."""
    assert "bars 10-11, see Offcuts" in texts_of(book["Order"])
