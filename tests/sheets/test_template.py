"""The input workbook gives back what was put into it, and is kind to those who fill it in."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest

from nesting.domain.electrics import Feed
from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Part, SplitRule
from nesting.domain.mitre import Mitre
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Place, Run
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.errors import InputRefused, Where
from nesting.money import read_money
from nesting.sheets.columns import CANONICAL, PLANS
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template
from nesting.units import Length, inches, mm

ROWS = {
    "Runs": [
        {
            "Job": "Orrelbeck Yard",
            "Building": "Orrelbeck Yard",
            "Floor": "3",
            "Unit": "3-05",
            "Room": "bath",
            "Place": "mirror, -1/2 from top",
            "Run": "OY-305-2",
            "Quantity": "2",
            "Length": "36 1/4 in",
            "Length kind": "opening",
            "Clearance left": "0",
            "Clearance right": "1/16 in",
            "Family": "TOLV-17N",
            "Finish": "natural",
            "Left end": "holed cap",
            "Right end": "bare",
            "Split": "never",
            "Lot": "7",
            "Note": "=not a formula",
            "Shop code": "007",
            "Feed": "back",
            "Back exit at": "450 mm",
        },
        {"Job": "Orrelbeck Yard", "Building": "Orrelbeck Yard", "Floor": "3", "Unit": "3-05", "Room": "bath"}
        | {"Run": "OY-305-7", "Quantity": "1", "Family": "TOLV-17N"}
        | {"Finish": "natural", "Length": "70 7/8 in", "Length kind": "long point", "Left end": "mitre 45"}
        | {"Right end": "mitre 22.5 outside", "Left corner to": "OY-305-8"},
    ],
    "Pieces": [
        {"Job": "rush", "Piece": "P-1", "Quantity": "3", "Length (mm)": "651.5", "Family": "TOLV-17N"}
        | {"Finish": "natural", "Part": "cover"}
    ],
    "Families": [
        {"Family": "TOLV-17N", "Cap style": "nose", "Cap thickness (mm)": "1.5", "Nose": "8 mm"}
        | {"Cover mode": "separate", "Cover play": "1 mm", "Clearance": "1.5 mm", "Lot rule": "job"}
        | {"Split": "full", "Joint gap": "0.5 mm", "Shortest section": "300 mm"}
        | {"Strip pitch": "5000/300 mm", "Strip feed": "20 mm", "Strip tail": "3 mm"}
        | {"Feed wire": "0.75 mm2", "Feed wire length": "10 m", "Strip": "W-24", "Strip width": "8 mm"}
        | {"Strip watts": "9.6 W/m", "Strip volts": "24 V", "Longest circuit": "5 m"}
        | {"Longest circuit fed both ends": "10 m", "Strip reel": "5 m", "Solder joint every": "500 mm"}
        | {"Connector reach": "12 mm", "Section width": "17.5 mm", "Section height": "8 mm"}
        | {"Symmetric": "no", "Handed caps": "yes", "Clip edge": "100 mm", "Clip spacing": "16 in"}
        | {"One clip below": "300 mm", "Adhesive rows": "2", "Cover stagger": "6 in", "Cover on coil": "yes"}
        | {"Channel expansion": "23.4e-6", "Cover expansion": "0.000065"}
        | {"Heat above": "30 K", "Heat below": "20"}
    ],
    "Stock": [
        {"Family": "TOLV-17N", "Finish": "natural", "Part": "channel", "Length": "2500 mm", "Price": "14.00"},
        {
            "Family": "TOLV-17N",
            "Finish": "natural",
            "Part": "cover",
            "Length": "2 m",
            "Price": "3.5",
            "Count": "40",
        },
    ],
    "Offcuts": [
        {"Tag": "FL-407", "Family": "TOLV-17N", "Finish": "natural", "Length": "1822 mm", "Left end": "raw"}
        | {"Right end": "clean", "Lot": "7", "Rack place": "rack B, shelf 3", "Value": "2.25"}
    ],
    "Saw": [
        {"Name": "Title", "Value": "Fit-out by Tavisham Dole"},
        {"Name": "Currency", "Value": "XTS"},
        {"Name": "Kerf", "Value": "3 mm", "Cover saw": "2.2 mm"},
        {"Name": "Head trim", "Value": "8 mm"},
        {"Name": "Tail loss", "Value": "8 mm"},
        {"Name": "Keep length", "Value": "400 mm"},
        {"Name": "Grip", "Value": "150 mm"},
        {"Name": "Saw step", "Value": "0.1 mm"},
    ],
}


def test_round_trip(tmp_path: Path) -> None:
    """Protects every column of every sheet: what is written is what is read, to the nanometre."""
    path = tmp_path / "list.xlsx"
    write_template(path, ROWS)
    request = read_request(path)

    assert request.runs == (
        Run(
            job="Orrelbeck Yard",
            id="OY-305-2",
            family="TOLV-17N",
            finish="natural",
            quantity=2,
            length=inches("36 1/4"),
            kind=LengthKind.OPENING,
            left=EndCondition.HOLED_CAP,
            right=EndCondition.BARE,
            clearance_left=mm(0),
            clearance_right=inches("1/16"),
            split_rule=SplitRule.NEVER,
            lot="7",
            place=Place("Orrelbeck Yard", "3", "3-05", "bath", "mirror, -1/2 from top"),
            note="=not a formula",
            feed=Feed.BACK,
            feed_at=mm(450),
            where=Where("Runs", "I2"),
        ),
        Run(
            job="Orrelbeck Yard",
            id="OY-305-7",
            family="TOLV-17N",
            finish="natural",
            length=inches("70 7/8"),
            kind=LengthKind.LONG_POINT,
            left=EndCondition.MITRE,
            right=EndCondition.MITRE,
            mitre_left=Mitre(Fraction(45)),
            mitre_right=Mitre(Fraction(45, 2), outside=True),
            partner_left="OY-305-8",
            place=Place("Orrelbeck Yard", "3", "3-05", "bath"),
            where=Where("Runs", "I3"),
        ),
    )
    assert request.runs[0].extra == (("Shop code", "007"),)
    assert request.piece_lines == (
        PieceLine(
            job="rush",
            id="P-1",
            family="TOLV-17N",
            finish="natural",
            part=Part.COVER,
            quantity=3,
            length=mm("651.5"),
            where=Where("Pieces", "I2"),
        ),
    )
    assert request.families == (
        Family(
            name="TOLV-17N",
            cap_style=CapStyle.NOSE,
            cap_thickness=mm("1.5"),
            nose=mm(8),
            cover_mode=CoverMode.SEPARATE,
            cover_play=mm(1),
            clearance=mm("1.5"),
            lot_rule=LotRule.JOB,
            split_rule=SplitRule.FULL,
            joint_gap=mm("0.5"),
            shortest_section=mm(300),
            strip_pitch=Fraction(5000 * 10**6, 300),
            strip_feed=mm(20),
            strip_tail=mm(3),
            wire="0.75 mm2",
            wire_length=mm(10_000),
            strip_name="W-24",
            strip_width=mm(8),
            strip_watts=Fraction(48, 5),
            strip_volts=Fraction(24),
            strip_longest=mm(5000),
            strip_longest_both=mm(10000),
            strip_reel=mm(5000),
            strip_solder=mm(500),
            strip_reach=mm(12),
            width=mm("17.5"),
            height=mm(8),
            symmetric=False,
            handed_caps=True,
            clip_edge=mm(100),
            clip_spacing=inches(16),
            clip_single_below=mm(300),
            adhesive_rows=2,
            cover_stagger=inches(6),
            cover_coil=True,
            channel_expansion=Fraction(234, 10**7),
            cover_expansion=Fraction(65, 10**6),
            heat_above=Fraction(30),
            heat_below=Fraction(20),
        ),
    )
    assert request.stock == (
        _bar(part=Part.CHANNEL, length=mm(2500), price="14.00", at="D2"),
        _bar(part=Part.COVER, length=mm(2000), price="3.50", count=40, at="D3"),
    )
    assert request.offcuts == (
        Offcut(
            tag="FL-407",
            family="TOLV-17N",
            finish="natural",
            length=mm(1822),
            left=EndState.RAW,
            right=EndState.CLEAN,
            lot="7",
            place="rack B, shelf 3",
            value=read_money("2.25"),
            where=Where("Offcuts", "A2"),
        ),
    )
    saw = SawRules(
        kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150), step=mm("0.1")
    )
    assert request.saw == saw
    assert request.cover_saw is not None
    assert request.cover_saw.kerf == mm("2.2")
    assert request.cover_saw.head_trim == saw.head_trim
    assert (request.title, request.currency) == ("Fit-out by Tavisham Dole", "XTS")
    assert not [finding for finding in request.findings if finding.code != "default-part"]


def _bar(*, part: Part, length: Length, price: str, at: str, count: int | None = None) -> StockLine:
    return StockLine(
        family="TOLV-17N",
        finish="natural",
        part=part,
        length=length,
        price=read_money(price),
        count=count,
        where=Where("Stock", at),
    )


def test_empty_template_has_every_sheet_and_nothing_to_make(tmp_path: Path) -> None:
    """Protects a newcomer: the empty workbook opens on its guide, and reading it says what is missing."""
    path = tmp_path / "empty.xlsx"
    write_template(path)
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == ["Guide", "Runs", "Pieces", "Families", "Stock", "Offcuts", "Saw"]
    with pytest.raises(InputRefused) as refused:
        read_request(path)
    assert "nothing-to-make" in {finding.code for finding in refused.value.findings}


def test_guide_and_sheets_agree(tmp_path: Path) -> None:
    """Protects the newcomer: the guide speaks of every sheet, and of no column that is not in it."""
    path = tmp_path / "empty.xlsx"
    write_template(path)
    book = openpyxl.load_workbook(path)
    sheet = ""
    told: dict[str, set[str]] = {}
    for name, hint in book["Guide"].iter_rows(min_row=2, max_col=2, values_only=True):
        if name and name.startswith("Sheet "):
            sheet = name.removeprefix("Sheet ")
        elif sheet and hint:
            told.setdefault(sheet, set()).add(name)
    first = {name for (name,) in book["Guide"].iter_rows(max_col=1, max_row=20, values_only=True)}
    for tab in book.sheetnames[1:]:
        headings = {cell.value for cell in book[tab][1]}
        assert tab in first
        assert told.get(tab, set()) <= headings
    assert {"Feed", "Back exit at", "Left corner to", "Right corner to"} <= told["Runs"]
    assert {"Clearance", "Cap style"} <= told["Families"]


def test_guide_lines_are_high_enough_and_names_are_whole(tmp_path: Path) -> None:
    """Protects the guide's reader in programs that fit no rows: no line over the next, no name cut off."""
    path = tmp_path / "empty.xlsx"
    write_template(path)
    guide = openpyxl.load_workbook(path)["Guide"]
    widths = [guide.column_dimensions[letter].width for letter in "AB"]
    for row in guide.iter_rows(min_row=2, max_col=2):
        height = guide.row_dimensions[row[0].row].height
        for cell, width in zip(row, widths, strict=True):
            if isinstance(cell.value, str) and not cell.value.startswith("Sheet "):
                # 15 points hold one line of 11 point letters.
                assert height >= 15 * -(-len(cell.value) // int(width)), cell.value


def test_an_unused_piece_sheet_changes_no_id(tmp_path: Path) -> None:
    """Protects identity: the template's empty Pieces sheet is no second list to tell ids apart from."""
    path = tmp_path / "list.xlsx"
    run = {"Length": "1806 mm", "Family": "F"}
    write_template(path, {"Runs": [run], "Families": [{"Family": "F"}], "Stock": [{**run, "Length": "2 m"}]})
    assert [run.id for run in read_request(path).runs] == ["R2"]


def test_template_is_ready_for_typing_and_printing(tmp_path: Path) -> None:
    """Protects against the date trap and loose pages: text cells, lists, fixed header, set-up pages."""
    path = tmp_path / "empty.xlsx"
    write_template(path)
    book = openpyxl.load_workbook(path)
    runs = book["Runs"]
    headings = [cell.value for cell in runs[1]]
    length = runs.column_dimensions[runs.cell(1, headings.index("Length") + 1).column_letter]
    assert length.number_format == "@"
    kind = runs.cell(2, headings.index("Length kind") + 1).coordinate
    assert [rule.formula1 for rule in runs.data_validations.dataValidation if kind in rule.sqref] == [
        '"opening,finished,channel,long point,short point,centre line"'
    ]
    assert runs.freeze_panes == "A2"
    for sheet in book.worksheets:
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.print_title_rows == (None if sheet.title == "Guide" else "$1:$1")


def test_guide_warns_of_dates_and_drawing_sizes(tmp_path: Path) -> None:
    """Protects the first cut: the two warnings that save a remake stand in the guide."""
    path = tmp_path / "empty.xlsx"
    write_template(path)
    guide = openpyxl.load_workbook(path)["Guide"]
    said = " ".join(str(cell.value) for row in guide.iter_rows() for cell in row if cell.value)
    assert "makes a date of 3/8" in said
    assert "not for cutting until somebody has verified it" in said


def test_unknown_sheet_and_saw_value_are_refused(tmp_path: Path) -> None:
    """Protects against rows that would silently go nowhere."""
    with pytest.raises(ValueError, match="No such sheet: Bars"):
        write_template(tmp_path / "list.xlsx", {"Bars": []})
    with pytest.raises(ValueError, match="No such saw value: blade speed"):
        write_template(tmp_path / "list.xlsx", {"Saw": [{"Name": "Blade speed", "Value": "3 mm"}]})


def test_canonical_headings_are_the_template_s(tmp_path: Path) -> None:
    """Protects callers who fill the template: the published headings are those it writes."""
    assert set(CANONICAL) == {plan.kind.value for plan in PLANS}
    path = tmp_path / "list.xlsx"
    write_template(path, {"Offcuts": []})
    book = openpyxl.load_workbook(path)
    written = [cell.value for cell in book["Stock"][1]]
    assert [heading for heading in CANONICAL["Stock"] if heading != "Length unit"] == written
