"""The whole way from a file to a request: options, catalogue, defaults, echo."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from nesting.batch.run import plan_request
from nesting.domain.material import Part
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import EndCondition, LengthKind, Place
from nesting.errors import InputRefused, Severity
from nesting.sheets.read_options import ReadOptions
from nesting.sheets.read_report import Verdict
from nesting.sheets.read_request import read_list, read_request
from nesting.sheets.template import write_template
from nesting.units import Unit, inches, mm
from nesting.verify import violations
from tests.sheets.messy import A1, A2, A3, HEAD, QUICK, Rows, csv, runs
from tests.sheets.test_template import ROWS

BARE = "Run,Qty,Length (mm),Family,Finish\nA-1,2,1806,TOLV-17N,natural\nA-2,1,598,TOLV-17N,umber\n"


def test_all_findings_at_once(tmp_path: Path) -> None:
    """Protects the user's patience: every cell to settle is told in one go, in the order of the sheet."""
    broken = ["A-1", "two", "VIF", "TOLV-17N", "natural"]
    with pytest.raises(InputRefused) as refused:
        read_request(runs([HEAD, broken, ["A-2", 0, "3-Aug", "TOLV-17N", "natural"], A3])(tmp_path))
    told = [f"{f.code} @ {f.where.at}" for f in refused.value.findings if f.severity.refuses]
    assert told == [
        "quantity-not-understood @ B2",
        "note-in-length @ C2",
        "quantity-out-of-range @ B3",
        "date-in-length @ C3",
    ]


def test_catalogue_lends_what_the_list_lacks(tmp_path: Path) -> None:
    """Protects the split between a shop's catalogue and the lists it is sent; the lists stay the lists."""
    shop = tmp_path / "shop.xlsx"
    write_template(shop, ROWS)
    request = read_request(
        csv("Run,Qty,Length (mm),Family,Finish\nA-1,2,1806,TOLV-17N,natural\n")(tmp_path), catalogue=shop
    )
    assert [run.id for run in request.runs] == ["A-1"]
    assert request.families[0].nose == mm(8)
    assert len(request.stock) == 2
    assert request.offcuts[0].tag == "FL-407"
    assert request.currency == "XTS"


def test_list_stands_above_the_catalogue(tmp_path: Path) -> None:
    """Protects a list that brings its own stock: the shop's is not mixed in."""
    shop = tmp_path / "shop.xlsx"
    write_template(shop, ROWS)
    request = read_request(runs([HEAD, A1])(tmp_path), catalogue=shop)
    assert [bar.length for bar in request.stock] == [mm(2500)]


def test_saw_options_and_defaults(tmp_path: Path) -> None:
    """Protects the kerf: an option beats the sheet, and a value nobody gave is told, one warning each."""
    request = read_request(
        csv(BARE)(tmp_path), options=ReadOptions(bars=((mm(2500), None),), kerf=inches("1/8"))
    )
    assert request.saw.kerf == inches("1/8")
    assert request.saw.head_trim == DEFAULT_SAW.head_trim
    told = {f.code for f in request.findings if f.severity is Severity.WARNING}
    assert told == {
        *("default-head-trim", "default-tail-loss", "default-keep-length", "default-grip", "default-step"),
        "plain-families",
    }


def test_unit_of_the_saw_sheet_serves_the_list(tmp_path: Path) -> None:
    """Protects a template filled with plain numbers: one cell says the unit for all of them."""
    path = tmp_path / "list.xlsx"
    write_template(
        path,
        {
            "Runs": [{"Run": "A-1", "Length": "36 1/4"}],
            "Families": [{"Family": "TOLV-17N", "Nose": "3/8"}],
            "Stock": [{"Family": "TOLV-17N", "Length": "98"}],
            "Saw": [{"Name": "Length unit", "Value": "in"}, {"Name": "Kerf", "Value": "1/8"}],
        }
        | {"Families": [{"Family": "TOLV-17N", "Cap style": "nose", "Nose": "3/8"}]},
    )
    request = read_request(path)
    assert request.runs[0].length == inches("36 1/4")
    assert request.families[0].nose == inches("3/8")
    assert request.saw.kerf == inches("1/8")


def test_defaults_are_told_once_per_column(tmp_path: Path) -> None:
    """Protects the reader of the findings: one note for a missing column, with how many rows took it."""
    request = read_request(runs([["Length (mm)"], [1806], [598], [1200]])(tmp_path))
    notes = {f.code: f.message for f in request.findings}
    assert set(notes) == {
        *("default-job", "default-kind", "default-id", "default-quantity", "default-left-end"),
        *("default-right-end", "default-family", "default-finish"),
    }
    assert "Rows: 3" in notes["default-quantity"]
    run = request.runs[0]
    assert (run.id, run.kind, run.left) == ("R2", LengthKind.FINISHED, EndCondition.SOLID_CAP)
    assert (run.job, run.family, run.finish) == ("list", "TOLV-17N", "natural")


def test_job_from_option_title_and_column(tmp_path: Path) -> None:
    """Protects labels: a line's own job counts, then the title block's, then the option's."""
    given = ReadOptions(job="given")
    assert read_request(runs([HEAD, A1])(tmp_path), options=given).runs[0].job == "given"
    title = runs([["Project: Orrelbeck"], HEAD, A1])(tmp_path)
    assert read_request(title, options=given).runs[0].job == "Orrelbeck"
    column = runs([["Project: Orrelbeck"], ["Job", *HEAD], ["rush", *A1], ["", *A2]])(tmp_path)
    assert [run.job for run in read_request(column).runs] == ["rush", "rush"]


def test_headings_and_ends_that_say_what_was_measured(tmp_path: Path) -> None:
    """Protects the take-off: an Opening column makes openings, a feed side makes a holed cap."""
    rows = [["Run", "Opening (mm)", "Family", "Finish", "Feed", "Left end", "Clearance"]]
    rows.append(["A-1", "1806", "TOLV-17N", "natural", "R", "wall", "2"])
    (run,) = read_request(runs(rows)(tmp_path)).runs
    assert run.kind is LengthKind.OPENING
    assert (run.left, run.right) == (EndCondition.BARE, EndCondition.HOLED_CAP)
    assert (run.clearance_left, run.clearance_right) == (mm(2), mm(2))


def test_ends_under_a_common_heading_keep_their_sides(tmp_path: Path) -> None:
    """Protects against one end read for both where two header rows name them."""
    rows: Rows = [[*HEAD, "Ends", ""], ["", "", "", "", "", "Left", "Right"], [*A1, "wall", "joint"]]
    (run,) = read_request(runs(rows)(tmp_path)).runs
    assert (run.left, run.right) == (EndCondition.BARE, EndCondition.JOINT)


def test_bars_on_hand_and_bars_to_buy_are_two_offers(tmp_path: Path) -> None:
    """Protects the purchaser: some bars of a length may lie here while more can be bought."""
    path = tmp_path / "list.xlsx"
    bar = {"Family": "TOLV-17N", "Finish": "natural", "Length": "2500 mm", "Price": "14.00", "Count": "5"}
    write_template(path, {**ROWS, "Stock": [*ROWS["Stock"], bar]})
    assert [line.count for line in read_request(path).stock] == [None, 40, 5]


def test_places_fill_down_within_their_floor_only(tmp_path: Path) -> None:
    """Protects the packer: a room is carried down its unit, not into the next one."""
    rows = [
        ["Floor", "Unit", "Room", *HEAD],
        ["3", "305", "bath", *A1],
        ["3", "", "", *A2],
        ["3", "306", "", *A3],
        ["4", "", "", "A-4", 1, 700, "TOLV-17N", "natural"],
    ]
    places = [run.place for run in read_request(runs(rows)(tmp_path)).runs]
    assert places == [
        Place(floor="3", unit="305", room="bath"),
        Place(floor="3", unit="305", room="bath"),
        Place(floor="3", unit="306"),
        Place(floor="4"),
    ]


def test_tabs_name_the_floor(tmp_path: Path) -> None:
    """Protects one-sheet-per-floor lists: the tab is the floor, and says so."""
    outcome = read_list(runs([HEAD, A1], tab="Level 3", more={"Level 4": [HEAD, A2]})(tmp_path))
    assert outcome.request is not None
    assert [run.place.floor for run in outcome.request.runs] == ["Level 3", "Level 4"]
    assert "default-floor" in {finding.code for finding in outcome.findings}


def test_row_numbers_of_two_sheets_make_different_ids(tmp_path: Path) -> None:
    """Protects identity: row 2 of one floor is not row 2 of another."""
    rows: Rows = [["Qty", "Length (mm)"], [1, 1806]]
    request = read_request(runs(rows, tab="Level 3", more={"Level 4": rows})(tmp_path))
    assert [run.id for run in request.runs] == ["Level 3-R2", "Level 4-R2"]


def test_own_columns_come_back(tmp_path: Path) -> None:
    """Protects the sender's columns: kept with their headings, in their order."""
    rows = [["Shop code", *HEAD, "Weight"], ["007", *A1, 2.5]]
    (run,) = read_request(runs(rows)(tmp_path)).runs
    assert run.extra == (("Shop code", "007"), ("Weight", "2.5"))


def test_pieces_may_stand_in_for_runs(tmp_path: Path) -> None:
    """Protects those who do their own take-off: no family sheet is needed for pieces."""
    rows = (
        "Piece,Qty,Length (mm),Family,Finish,Part\n"
        "P-1,2,1806,TOLV-17N,natural,channel\n"
        "P-1,2,1790,TOLV-17N,natural,cover\n"
    )
    request = read_request(csv(rows, "pieces.csv")(tmp_path), options=QUICK)
    assert not request.runs
    assert [(line.id, line.part, line.length) for line in request.piece_lines] == [
        ("P-1", Part.CHANNEL, mm(1806)),
        ("P-1 cover", Part.COVER, mm(1790)),
    ]
    assert {bar.part for bar in request.stock} == {Part.CHANNEL, Part.COVER}
    assert violations(plan_request(request)) == ()


@pytest.mark.parametrize(
    ("sheet", "row", "code", "at"),
    [
        ("Families", {"Family": "tolv-17n"}, "duplicate-family", "Families!A3"),
        ("Families", {"Family": "X", "Cap style": "round"}, "cap-style-not-understood", "Families!B3"),
        ("Families", {"Family": "X", "Cap style": "flush", "Nose": "3 mm"}, "cannot-exist", "Families!A3"),
        ("Families", {"Family": "X", "Nose": "-3 mm"}, "negative", "Families!D3"),
        (
            "Stock",
            {"Family": "TOLV-17N", "Finish": "natural", "Length": "3000 mm"},
            "some-prices-missing",
            "Stock!E4",
        ),
        ("Stock", {"Family": "TOLV-17N", "Part": "lead", "Length": "3 m"}, "part-not-understood", "Stock!C4"),
        (
            "Stock",
            {"Family": "TOLV-17N", "Finish": "natural", "Part": "channel", "Length": "2500 mm", "Price": "1"},
            "duplicate-stock",
            "Stock!D4",
        ),
        ("Stock", {"Family": "", "Finish": "natural", "Length": "3 m"}, "family-missing", "Stock!A4"),
        ("Offcuts", {"Tag": "FL-407", "Family": "TOLV-17N", "Length": "3 m"}, "duplicate-tag", "Offcuts!A3"),
        ("Offcuts", {"Tag": "FL-1", "Family": "ZZZ", "Length": "3 m"}, "offcut-family-unknown", "Offcuts!A3"),
        ("Offcuts", {"Tag": "", "Family": "TOLV-17N", "Length": "3 m"}, "tag-missing", "Offcuts!A3"),
        ("Offcuts", {"Tag": "FL-2", "Family": "TOLV-17N"}, "length-missing", "Offcuts!A3"),
    ],
)
def test_catalogue_findings(tmp_path: Path, sheet: str, row: dict[str, str], code: str, at: str) -> None:
    """Protects the catalogue: what is wrong in it is named with its cell."""
    path = tmp_path / "list.xlsx"
    write_template(path, {name: [*rows, row] if name == sheet else rows for name, rows in ROWS.items()})
    outcome = read_list(path)
    assert (code, at) in {(finding.code, str(finding.where)) for finding in outcome.findings}


def test_saw_sheet_findings(tmp_path: Path) -> None:
    """Protects the saw: a name nobody knows and a value given twice are told."""
    more = {
        "Saw table": [
            ["Kerf", "3 mm"],
            ["Kerf", "4 mm"],
            ["Head trim", "8"],
            ["Grip", "150 mm"],
            ["Speed", "9"],
        ]
    }
    rows: Rows = [["Piece", "Length (mm)", "Family"], ["P", 300, "F"]]
    path = runs(rows, more=more)(tmp_path)
    codes = {(f.code, str(f.where)) for f in read_list(path).findings}
    assert ("duplicate-saw-value", "Saw table!B2") in codes
    assert ("no-unit", "Saw table!B3") in codes
    assert ("saw-name-unknown", "Saw table!A5") in codes
    assert any(code == "two-saw-sheets" for code, _ in codes)


def test_currency_that_is_none(tmp_path: Path) -> None:
    """Protects the order's head: a currency is a code of three letters."""
    outcome = read_list(csv(BARE)(tmp_path), options=ReadOptions(bars=((mm(2500), None),), currency="$"))
    assert "currency-not-understood" in {finding.code for finding in outcome.findings}


def test_echo_shows_every_row_in_both_units(tmp_path: Path) -> None:
    """Protects against misreadings nobody sees: each row with its cell, reading, defaults and verdict."""
    rows = [
        HEAD,
        A1,
        ["Total", 2],
        ["A-2", 1, "VIF", "TOLV-17N", "natural"],
        ["A-3", "", 920.75, "TOLV-17N", "natural"],
    ]
    outcome = read_list(
        runs([["Unit", *HEAD], *(["305", *row] for row in rows[1:2]), *(["", *row] for row in rows[2:])])(
            tmp_path
        )
    )
    read, total, asked, last = outcome.echo.rows
    assert (str(read.where), read.raw, read.mm, read.verdict) == ("Runs!D2", "1806", "1806", Verdict.OK)
    assert read.inch == "~71 7/64"  # 1806 / 25.4 = 71.102; 7/64 is 0.109
    assert (total.verdict, total.reason) == (Verdict.SKIP, "total")
    assert (asked.verdict, asked.raw, asked.mm) == (Verdict.ASK, "VIF", "")
    assert (last.mm, last.inch, last.quantity) == ("920.75", "36 1/4", 1)
    assert "quantity: 1" in last.defaults
    assert "unit from above" in last.defaults
    assert str(outcome.echo) == "4 rows, 2 runs, 3 pieces, 1 skipped"


def test_options_give_the_unit_only_where_the_list_is_silent(tmp_path: Path) -> None:
    """Protects a heading's unit from the command line's."""
    (run,) = read_request(runs([HEAD, A1])(tmp_path), options=ReadOptions(unit=Unit.INCH)).runs
    assert run.length == mm(1806)


def test_same_file_same_request(tmp_path: Path) -> None:
    """Protects repeatability: reading twice gives equal requests."""
    path = runs([HEAD, A1, A2])(tmp_path)
    assert read_request(path) == read_request(path)


def test_a_bare_list_is_never_divided(tmp_path: Path) -> None:
    """Protects against a long piece sawn in three in silence: lengths and quantities alone are pieces."""
    bare = csv("length,quantity\n7000 mm,2\n")(tmp_path)
    request = read_request(bare, options=QUICK)
    assert (request.runs, [line.length for line in request.piece_lines]) == ((), [mm(7000)])
    shop = tmp_path / "shop.xlsx"
    write_template(shop, ROWS)
    lent = read_list(bare, catalogue=shop).request
    assert lent is not None
    assert (lent.runs, [line.length for line in lent.piece_lines]) == ((), [mm(7000)])


@pytest.mark.parametrize("name", ["list.csv", "pieces.csv", "upload.csv"])
def test_a_bare_list_means_the_same_under_every_name(tmp_path: Path, name: str) -> None:
    """Protects the lengths of a list that came over another way: a file's name takes no cap off."""
    shop = tmp_path / "shop.xlsx"
    write_template(shop, ROWS)
    path = tmp_path / name
    path.write_text("length mm,quantity\n1806,12\n904,7\n", encoding="utf-8")
    request = read_request(path, catalogue=shop)
    assert (request.runs, [line.length for line in request.piece_lines]) == ((), [mm(1806), mm(904)])


@pytest.mark.parametrize("column", ["Family", "Room", "Left end", "Run"])
def test_a_list_that_speaks_of_fixtures_is_taken_off_by_lent_families(tmp_path: Path, column: str) -> None:
    """Protects the shop's catalogue: a list with a family, a place or an end is one of fixtures."""
    said = {"Family": "TOLV-17N", "Room": "Kitchen", "Left end": "bare", "Run": "A-1"}
    shop = tmp_path / "shop.xlsx"
    write_template(shop, ROWS)
    request = read_request(
        csv(f"length mm,quantity,{column}\n1806,2,{said[column]}\n")(tmp_path), catalogue=shop
    )
    assert ([run.length for run in request.runs], request.piece_lines) == ([mm(1806)], ())


def test_no_stock_is_told_once_and_by_its_name(tmp_path: Path) -> None:
    """Protects a first try: what is missing is a bar, not the family of every line."""
    outcome = read_list(csv("id,length,quantity\nA,1806 mm,2\nB,598 mm,1\nC,700 mm,1\n")(tmp_path))
    (finding,) = [finding for finding in outcome.findings if finding.severity.refuses]
    assert finding.code == "no-stock"
    assert "--bar" in finding.message
    assert "--catalogue" in finding.message


def test_without_a_unit_the_option_is_named(tmp_path: Path) -> None:
    """Protects the user of the command: a unit may be given there too."""
    path = csv("id,length,quantity\nA,1806,2\n")(tmp_path)
    (message,) = [f.message for f in read_list(path, options=QUICK).findings if f.code == "no-unit"]
    assert "--unit mm" in message


def test_a_fraction_without_a_unit_is_one_of_an_inch(tmp_path: Path) -> None:
    """Protects against 36 1/4 mm: who types fractions is told to name inches."""
    path = csv("id,length,quantity\nA,36 1/4,2\nB,24,1\n")(tmp_path)
    messages = [f.message for f in read_list(path, options=QUICK).findings if f.code == "no-unit"]
    assert "--unit in" in messages[0]


def test_totals_are_told_in_plain_words(tmp_path: Path) -> None:
    """Protects the reader of a difference: one sum where there is one, the two named where there are two."""
    rows = [HEAD, A1, A2, ["Subtotal", 3], A3, ["Subtotal", 9], ["Grand total", 40]]
    messages = [f.message for f in read_list(runs(rows)(tmp_path)).findings if f.code == "total-differs"]
    assert [message.partition(";")[0] for message in messages] == [
        "The lines read above it come to 3 fixtures or pieces since the last total and 6 fixtures or pieces "
        "from the top",
        "The lines read above it come to 6 fixtures or pieces",
    ]


def test_a_saw_column_nobody_reads_is_told(tmp_path: Path) -> None:
    """Protects the second saw of a shop: values under a heading of its own are not dropped in silence."""
    path = tmp_path / "list.xlsx"
    write_template(path, ROWS)
    book = openpyxl.load_workbook(path)
    book["Saw"]["E1"], book["Saw"]["E4"] = "Mitre saw", "2.8 mm"
    book.save(path)
    assert ("column-not-read", "Saw!E1") in {(f.code, str(f.where)) for f in read_list(path).findings}
