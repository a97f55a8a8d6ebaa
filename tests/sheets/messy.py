"""
A registry of run lists as people really send them, each with the reading or the findings it must give.

Adding one: write a builder that puts the file into a folder, and append a `Messy` to its list. The
lists are our own invention after the habits of the trade (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.styles import Font, PatternFill

from nesting.sheets.read_options import NO_OPTIONS, ReadOptions
from nesting.units import Unit, mm

HEAD = ["Run", "Qty", "Length (mm)", "Family", "Finish"]
A1: list[Any] = ["A-1", 2, 1806, "TOLV-17N", "natural"]
A2: list[Any] = ["A-2", 1, 598, "TOLV-17N", "natural"]
A3: list[Any] = ["A-3", 3, 1200, "TOLV-17N", "natural"]
READ_A12 = ("2 x 1806", "1 x 598")
READ_A123 = (*READ_A12, "3 x 1200")

Rows = Sequence[Sequence[Any]]
Build = Callable[[Path], Path]


@dataclass(frozen=True, slots=True, kw_only=True)
class Messy:
    """
    One messy list.

    Parameters
    ----------
    habit
        What the sender did, in words.
    reads
        ``quantity x millimetres`` of each line that was read; None when a finding refuses the list.
    findings
        Exactly the findings it must give, as ``code @ Sheet!Cell``; defaults are left out.
    skipped
        Rows passed over.
    """

    name: str
    habit: str
    build: Build
    reads: tuple[str, ...] | None = None
    findings: tuple[str, ...] = ()
    skipped: int = 0
    options: ReadOptions = NO_OPTIONS


def save(folder: Path, book: Any) -> Path:
    """Save a workbook under the name all of them have."""
    path = folder / "list.xlsx"
    book.save(path)
    return path


def catalogue(book: Any, *, families: Rows = (), stock: Rows = ()) -> None:
    """Add the sheets that leave nothing to be said about them."""
    sheets: dict[str, Rows] = {
        "Families": [["Family", "Cap style"], ["TOLV-17N", "flush"], *families],
        "Stock": [["Family", "Finish", "Length (mm)"], ["TOLV-17N", "natural", 2500], *stock],
        "Saw": [
            *(["Kerf", "3 mm"], ["Head trim", "8 mm"], ["Tail loss", "8 mm"], ["Keep length", "400 mm"]),
            *(["Grip", "150 mm"], ["Saw step", "0"]),
        ],
    }
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)


def runs(
    rows: Rows,
    *,
    tab: str = "Runs",
    touch: Callable[[Any], None] | None = None,
    more: Mapping[str, Rows] | None = None,
    families: Rows = (),
    stock: Rows = (),
) -> Build:
    """Give a builder of a workbook with these rows on its first tab, touched up, and a catalogue."""

    def build(folder: Path) -> Path:
        book = openpyxl.Workbook()
        for name, content in {tab: rows, **(more or {})}.items():
            sheet = book.active if name == tab else book.create_sheet(name)
            sheet.title = name
            for row in content:
                sheet.append(list(row))
        if touch:
            touch(book[tab])
        catalogue(book, families=families, stock=stock)
        return save(folder, book)

    return build


def csv(content: str | bytes, name: str = "list.csv") -> Build:
    """Give a builder of a CSV file."""

    def build(folder: Path) -> Path:
        path = folder / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    return build


def unnamed_tabs() -> Build:
    """Give a builder of a workbook whose sheets only their headings tell apart."""

    def build(folder: Path) -> Path:
        book = openpyxl.Workbook()
        book.remove(book.active)
        sheets: dict[str, Rows] = {
            "A": [["Qty", "Length (mm)", "Run", "Family", "Finish"], [2, 1806, "A-1", "TOLV-17N", "umber"]],
            "B": [["Profile", "End cap", "Nose (mm)"], ["TOLV-17N", "nose", 8], ["struck", "", ""]],
            "C": [["Family", "Finish", "Length (mm)", "Price"], ["TOLV-17N", "natural", 2500, 14]],
            "D": [
                ["Offcut", "Family", "Finish", "Length (mm)"],
                ["FL-1", "TOLV-17N", "umber", 1822],
                ["rack B"],
            ],
            "E": [["Part", "Length (mm)", "Family"], ["", "", ""]],
            "F": [["Kerf (mm)", 3], ["Head trim", "8 mm"], ["Tail loss", "8 mm"], ["Keep", "400 mm"]],
        }
        for name, rows in sheets.items():
            sheet = book.create_sheet(name)
            for row in rows:
                sheet.append(list(row))
        for cell in book["B"][3]:
            cell.font = Font(strike=True)
        return save(folder, book)

    return build


def one_length(value: Any, heading: str = "Length (mm)", quantity: Any = 1, number_format: str = "") -> Build:
    """Give a builder of a list with one line whose length cell is C2."""

    def touch(sheet: Any) -> None:
        if number_format:
            sheet["C2"].number_format = number_format

    return runs(
        [["Run", "Qty", heading, "Family", "Finish"], ["A-1", quantity, value, "TOLV-17N", "natural"]],
        touch=touch,
    )


def _struck(address: str) -> Callable[[Any], None]:
    def touch(sheet: Any) -> None:
        for row in sheet[address] if ":" in address else [[sheet[address]]]:
            for cell in row:
                cell.font = Font(strike=True)

    return touch


def _coloured(sheet: Any) -> None:
    for cell in sheet[3]:
        cell.fill = PatternFill("solid", fgColor="FFFF9999")


def _hidden_row(sheet: Any) -> None:
    sheet.row_dimensions[3].hidden = True


def _hidden_sheet(sheet: Any) -> None:
    sheet.sheet_state = "hidden"


def _merged(*ranges: str) -> Callable[[Any], None]:
    def touch(sheet: Any) -> None:
        for cells in ranges:
            sheet.merge_cells(cells)

    return touch


QUICK = ReadOptions(
    kerf=mm(3),
    head_trim=mm(8),
    tail_loss=mm(8),
    keep_length=mm(400),
    grip=mm(150),
    step=mm(0),
    bars=((mm(2500), None),),
)
_PLAIN = "plain-families @ Families"

LAYOUTS = [
    Messy(name="tidy", habit="A list as we would like it.", build=runs([HEAD, A1, A2]), reads=READ_A12),
    Messy(
        name="any-order-and-case",
        habit="Columns in another order, shouted, with punctuation.",
        build=runs(
            [["PROFILE", "COLOUR:", "LENGTH - MM", "QTY.", "Ref"], ["TOLV-17N", "natural", 1806, 2, "A-1"]]
        ),
        reads=("2 x 1806",),
    ),
    Messy(
        name="title-block",
        habit="A title block above the header, with the job in it.",
        build=runs(
            [["Orrelbeck Yard fit-out"], ["Job:", "OY"], ["Drawn up", date(2026, 3, 8)], [], HEAD, A1, A2]
        ),
        reads=READ_A12,
        findings=("from-title-block @ Runs!B2",),
    ),
    Messy(
        name="unit-in-title",
        habit="The unit is said once, above the list.",
        build=runs([["All dimensions in mm"], ["Run", "Qty", "Length", "Family", "Finish"], A1, A2]),
        reads=READ_A12,
    ),
    Messy(
        name="repeated-header",
        habit="The header comes again at the top of each printed page.",
        build=runs([HEAD, A1, HEAD, A2]),
        reads=READ_A12,
        skipped=1,
    ),
    Messy(
        name="units-under-header",
        habit="A second header row gives the units.",
        build=runs([["Run", "Qty", "Length", "Family", "Finish"], ["", "", "mm"], A1, A2]),
        reads=READ_A12,
        skipped=1,
    ),
    Messy(
        name="blank-spacers",
        habit="Blank rows between groups.",
        build=runs([HEAD, A1, [], [], A2]),
        reads=READ_A12,
    ),
    Messy(
        name="section-headings",
        habit="A floor's name stands alone above its lines.",
        build=runs([HEAD, ["Level 3"], A1, ["Level 4"], A2]),
        reads=READ_A12,
        findings=("section-heading @ Runs!A2", "section-heading @ Runs!A4"),
        skipped=2,
    ),
    Messy(
        name="subtotals-agree",
        habit="Subtotals and a grand total, all right.",
        # 2 + 1 = 3 fixtures, then 3, then 3 + 3 = 6.
        build=runs([HEAD, A1, A2, ["Subtotal", 3], A3, ["Subtotal", 3], ["GRAND TOTAL", 6]]),
        reads=READ_A123,
        findings=("total-agrees @ Runs!B4", "total-agrees @ Runs!B6", "total-agrees @ Runs!B7"),
        skipped=3,
    ),
    Messy(
        name="total-differs",
        habit="A total that was not updated.",
        build=runs([HEAD, A1, A2, ["Total", 4]]),
        reads=READ_A12,
        findings=("total-differs @ Runs!B4",),
        skipped=1,
    ),
    Messy(
        name="total-length-agrees",
        habit="The total adds up lengths too.",
        # 2 x 1806 + 1 x 598 = 4210 mm.
        build=runs([HEAD, A1, A2, ["Sum", 3, 4210]]),
        reads=READ_A12,
        findings=("total-agrees @ Runs!B4", "total-agrees @ Runs!C4"),
        skipped=1,
    ),
    Messy(
        name="bare-total",
        habit="A sum under the quantities without a word beside it.",
        build=runs([HEAD, A1, A2, ["", 3]]),
        reads=READ_A12,
        findings=("total-agrees @ Runs!B4",),
        skipped=1,
    ),
    Messy(
        name="merged-unit",
        habit="The unit stands in a block merged over its lines.",
        build=runs([["Unit", *HEAD], ["305", *A1], ["", *A2]], touch=_merged("A2:A3")),
        reads=READ_A12,
    ),
    Messy(
        name="unit-in-first-row-only",
        habit="The unit stands only in the first line of each unit.",
        build=runs([["Unit", "Room", *HEAD], ["305", "bath", *A1], ["", "", *A2], ["306", "", *A3]]),
        reads=READ_A123,
        findings=("filled-down @ Runs!A3", "filled-down @ Runs!B3"),
    ),
    Messy(
        name="family-in-first-row-only",
        habit="Family and finish are not repeated.",
        build=runs([HEAD, A1, ["A-2", 1, 598]], families=[["BRASK-20F", "flush"]]),
        findings=("family-missing @ Runs!C3",),
    ),
    Messy(
        name="finish-in-first-row-only",
        habit="The finish is not repeated, and there are two it could be.",
        build=runs([HEAD, A1, ["A-2", 1, 598, "TOLV-17N"]], stock=[["TOLV-17N", "umber", 2500]]),
        findings=("not-stocked @ Runs!D3",),
    ),
    Messy(
        name="merged-quantity",
        habit="One quantity merged over two lines.",
        build=runs([HEAD, A1, ["A-2", "", 598, "TOLV-17N", "natural"]], touch=_merged("B2:B3")),
        findings=("merged-quantity @ Runs!B2",),
    ),
    Messy(
        name="ditto-marks",
        habit="Ditto marks under the family and room.",
        build=runs([["Room", *HEAD], ["bath", *A1], ['"', "A-2", 1, 598, '"', '"']]),
        reads=READ_A12,
        findings=("filled-down @ Runs!A3", "filled-down @ Runs!E3", "filled-down @ Runs!F3"),
    ),
    Messy(
        name="sheet-per-floor",
        habit="One sheet per floor.",
        build=runs([HEAD, A1], tab="Level 3", more={"Level 4": [HEAD, A2]}),
        reads=READ_A12,
    ),
    Messy(
        name="revision-tabs",
        habit="Old revisions left in the workbook.",
        build=runs([HEAD, A1], tab="Runs rev A", more={"Runs rev B": [HEAD, ["A-9", *A1[1:]]]}),
        findings=("revision-tabs @ Runs rev B",),
    ),
    Messy(
        name="matrix",
        habit="Unit types across, runs down, counts inside.",
        build=runs(
            [
                ["Run", "Length (mm)", "Family", "Finish", "Type A", "Type B", "Type C"],
                ["mirror", 780, "TOLV-17N", "natural", 1, 2, ""],
                ["niche", 420, "TOLV-17N", "natural", 1, 1, 1],
            ]
        ),
        findings=("matrix-layout @ Runs!E1",),
    ),
    Messy(
        name="matrix-of-types-alone",
        habit="Unit types across and no Family column, where Type A could pass for the family's heading.",
        build=runs([["Run", "Length (mm)", "Type A", "Type B"], ["mirror", 780, 1, 2], ["niche", 420, 3, 1]]),
        findings=("matrix-layout @ Runs!C1",),
    ),
    Messy(
        name="struck-row",
        habit="A line struck through because it was cancelled.",
        build=runs([HEAD, A1, A2, A3], touch=_struck("A3:E3")),
        reads=("2 x 1806", "3 x 1200"),
        findings=("struck-row @ Runs!A3",),
        skipped=1,
    ),
    Messy(
        name="struck-length",
        habit="Only the length is struck through.",
        build=runs([HEAD, A1, A2], touch=_struck("C3")),
        findings=("struck-length @ Runs!C3",),
    ),
    Messy(
        name="coloured-row",
        habit="A line coloured red, whatever that means.",
        build=runs([HEAD, A1, A2, A3], touch=_coloured),
        reads=READ_A123,
        findings=("coloured-rows @ Runs",),
    ),
    Messy(
        name="cancelled-in-note",
        habit="A line cancelled in words.",
        build=runs([[*HEAD, "Note"], A1, [*A2, "Cancelled"], A3]),
        reads=("2 x 1806", "3 x 1200"),
        findings=("cancelled-row @ Runs!A3",),
        skipped=1,
    ),
    Messy(
        name="hidden-row",
        habit="A filter hides a line.",
        build=runs([HEAD, A1, A2], touch=_hidden_row),
        reads=READ_A12,
        findings=("hidden-rows @ Runs",),
    ),
    Messy(
        name="hidden-sheet",
        habit="The list's sheet is hidden.",
        build=runs([HEAD, A1, A2], touch=_hidden_sheet),
        reads=READ_A12,
        findings=("hidden-sheet @ Runs",),
    ),
    Messy(
        name="other-tab",
        habit="A tab of remarks beside the list.",
        build=runs([HEAD, A1], more={"Remarks": [["Call the site before Friday"]]}),
        reads=("2 x 1806",),
        findings=("sheet-not-read @ Remarks",),
    ),
    Messy(
        name="second-table",
        habit="A second list with other columns below the first.",
        build=runs([HEAD, A1, [], ["Length (mm)", "Qty", "Run"], [598, 1, "B-1"]]),
        findings=("second-table @ Runs!A4",),
    ),
    Messy(
        name="footer",
        habit="Signatures below the total.",
        build=runs([HEAD, A1, A2, ["Total", 3], ["Prepared by", "", "", "", "T. Dole"], ["Page 1 of 1"]]),
        reads=READ_A12,
        findings=("total-agrees @ Runs!B4", "row-not-read @ Runs!A5"),
        skipped=3,
    ),
    Messy(
        name="lone-texts",
        habit="Remarks alone in their rows, page numbers, an id whose length was forgotten.",
        build=runs([[*HEAD, "Note"], A1, ["", "", "", "", "", "see below"], ["Page 1 of 2"], ["A-7"], A2]),
        findings=("text-row @ Runs!F3", "length-missing @ Runs!C5"),
    ),
    Messy(
        name="heading-in-id-column",
        habit="The name of a place stands where the ids stand.",
        build=runs([HEAD, A1, ["Kitchen and dining"], A2]),
        reads=READ_A12,
        findings=("text-row @ Runs!A3",),
        skipped=1,
    ),
    Messy(
        name="total-over-unread-lines",
        habit="A total above which a line could not be read: it is not called wrong.",
        build=runs([HEAD, A1, ["A-2", 1, "TBC", *A2[3:]], ["Total", 3]]),
        findings=("note-in-length @ Runs!C3",),
    ),
    Messy(
        name="total-as-dead-formula",
        habit="The total is a formula nobody ever computed.",
        build=runs([HEAD, A1, A2, ["Total", "=SUM(B2:B3)"]]),
        reads=READ_A12,
        findings=("total-not-compared @ Runs!B4",),
        skipped=1,
    ),
    Messy(
        name="total-in-words",
        habit="The total and its number in one cell.",
        build=runs([HEAD, A1, A2, ["Total 3 pcs"]]),
        reads=READ_A12,
        findings=("total-agrees @ Runs!A4",),
        skipped=1,
    ),
    Messy(
        name="unlabelled-total-of-both",
        habit="Sums under quantity and length without a word: no run of the family above.",
        # 2 + 1 = 3 fixtures, 4210 mm.
        build=runs([HEAD, A1, A2, ["", 3, 4210]]),
        reads=READ_A12,
        findings=("total-agrees @ Runs!B4", "total-agrees @ Runs!C4"),
        skipped=1,
    ),
    Messy(
        name="units-label-in-title",
        habit="Units: inches, above the list, with the job beside it.",
        build=runs(
            [
                ["Job: OY", "Units:", "inches"],
                ["Run", "Qty", "Length", *HEAD[3:]],
                ["A-1", 2, "36 1/4", *A1[3:]],
            ]
        ),
        reads=("2 x 920.75",),
        findings=("from-title-block @ Runs!A1",),
    ),
    Messy(
        name="no-header",
        habit="No headings at all.",
        build=runs([A1, A2]),
        findings=("no-header @ Runs",),
    ),
]
HEADINGS = [
    Messy(
        name="two-length-columns",
        habit="Opening and overall length side by side.",
        build=runs(
            [["Run", "Opening (mm)", "Overall length (mm)", "Family", "Finish"], ["A-1", 1809, 1806, *A1[3:]]]
        ),
        findings=("two-columns @ Runs!C1",),
    ),
    Messy(
        name="weak-heading-gives-way",
        habit="A Size column for the section beside the Length.",
        build=runs(
            [["Run", "Size", "Length (mm)", "Qty", "Family", "Finish"], ["A-1", "17x8", 1806, 2, *A1[3:]]]
        ),
        reads=("2 x 1806",),
    ),
    Messy(
        name="line-numbers",
        habit='A "No." column that numbers the lines.',
        build=runs([["No.", *HEAD[2:]], [1, *A1[2:]], [2, *A2[2:]], [3, *A3[2:]]]),
        reads=("1 x 1806", "1 x 598", "1 x 1200"),
        findings=("line-numbers @ Runs!A1",),
    ),
    Messy(
        name="unit-means-mm",
        habit="A Unit column that holds mm and inches, not apartments.",
        build=runs(
            [
                ["Run", "Qty", "Length", "Unit", "Family", "Finish"],
                ["A-1", 2, 1806, "mm", *A1[3:]],
                ["A-2", 1, "36 1/4", "in", *A1[3:]],
            ]
        ),
        reads=("2 x 1806", "1 x 920.75"),
        findings=("unit-of-length @ Runs!D1",),
    ),
    Messy(
        name="opening-heading",
        habit="The heading says that openings were measured.",
        build=runs([["Run", "Qty", "Opening width in mm", "Family", "Finish"], A1]),
        reads=("2 x 1806",),
    ),
    Messy(
        name="no-family-column",
        habit="One family only, so nobody writes it down.",
        build=runs([["Run", "Qty", "Length (mm)"], ["A-1", 2, 1806]]),
        reads=("2 x 1806",),
    ),
    Messy(
        name="only-lengths",
        habit="A bare column of lengths.",
        build=runs([["Length (mm)"], [1806], [598]]),
        reads=("1 x 1806", "1 x 598"),
    ),
    Messy(
        name="feed-column",
        habit="The feed side is given instead of the ends.",
        build=runs([[*HEAD, "Feed side"], [*A1, "L"]]),
        reads=("2 x 1806",),
    ),
    Messy(
        name="end-not-understood",
        habit="An end nobody has heard of.",
        build=runs([[*HEAD, "Left end"], [*A1, "wobbly"]]),
        findings=("end-not-understood @ Runs!F2",),
    ),
    Messy(
        name="mitred-end",
        habit="A mitre without its angle.",
        build=runs([[*HEAD, "Right end"], [*A1, "mitre"]]),
        findings=("mitre-not-understood @ Runs!F2",),
    ),
    Messy(
        name="two-row-header",
        habit="Ends over left and right, in two header rows.",
        build=runs([[*HEAD, "Ends", ""], ["", "", "", "", "", "Left", "Right"], [*A1, "wall", "joint"]]),
        reads=("2 x 1806",),
    ),
    Messy(
        name="column-without-heading",
        habit="Something beside the list, without a heading.",
        build=runs([HEAD, [*A1, "urgent"], A2]),
        reads=READ_A12,
        findings=("column-without-heading @ Runs!F2",),
    ),
    Messy(
        name="run-called-total",
        habit="A run whose name starts like a total.",
        build=runs([HEAD, ["Total look mirror", *A1[1:]]]),
        reads=("2 x 1806",),
    ),
    Messy(
        name="quantity-that-happens-to-be-the-sum",
        habit="A line without finish whose quantity equals the sum above it.",
        build=runs([["Qty", "Length (mm)", "Finish"], [1, 1806, "natural"], [1, 598, "natural"], [2, 700]]),
        reads=("1 x 1806", "1 x 598", "2 x 700"),
    ),
    Messy(
        name="two-kinds",
        habit="The heading says opening, the line says channel.",
        build=runs(
            [["Run", "Opening (mm)", "Length kind", "Family", "Finish"], ["A-1", 1806, "channel", *A1[3:]]]
        ),
        findings=("two-kinds @ Runs!C2",),
    ),
    Messy(
        name="unit-of-length-mistyped",
        habit="A unit nobody has heard of.",
        build=runs([["Run", "Length", "UoM", "Family", "Finish"], ["A-1", 1806, "ells", *A1[3:]]]),
        findings=("unit-not-understood @ Runs!C2", "no-unit @ Runs!B2"),
    ),
    Messy(
        name="status-unknown",
        habit="A status of the sender's own.",
        build=runs([[*HEAD, "Status"], [*A1, "phase 2"]]),
        reads=("2 x 1806",),
        findings=("status-not-understood @ Runs!F2",),
    ),
    Messy(
        name="not-verified",
        habit="A size from a drawing, marked so.",
        build=runs([[*HEAD, "Status"], [*A1, "drawing"], [*A2, "measured"]]),
        reads=READ_A12,
        findings=("size-not-verified @ Runs!F2",),
    ),
    Messy(
        name="on-hold",
        habit="A line on hold.",
        build=runs([[*HEAD, "Status"], [*A1, "HOLD"]]),
        reads=("2 x 1806",),
        findings=("on-hold @ Runs!F2",),
    ),
]

LENGTHS = [
    *(
        Messy(
            name=f"length {text!r} under {heading}",
            habit="A spelling of a length.",
            build=one_length(text, heading),
            reads=(f"1 x {read}",),
        )
        for text, heading, read in (
            ("1250", "Length (mm)", "1250"),
            (1250.5, "Length (mm)", "1250.5"),
            (1806.0, "Length (mm)", "1806"),
            ("1\u00a0250 mm", "Length", "1250"),
            ("2,4 m", "Length", "2400"),
            ('10-3/8"', "Length", "263.525"),
            (36.25, "Length (in)", "920.75"),
            ("36 ¼", "Length in inches", "920.75"),
            ("3' 4-1/2\"", "Length", "1028.7"),
            ("  1806 \u00a0", "Length (mm)", "1806"),
            # What a formula leaves of 1806.1: a spreadsheet holds 15 digits, the rest is binary noise.
            (1806.1000000000001, "Length (mm)", "1806.1"),
        )
    ),
    Messy(
        name="unit-in-number-format",
        habit="The unit is only in the number format.",
        build=one_length(1806, "Length", number_format='0" mm"'),
        reads=("1 x 1806",),
    ),
    *(
        Messy(
            name=f"length {text!r} under {heading}",
            habit=habit,
            build=one_length(text, heading),
            findings=(f"{code} @ Runs!C2",),
        )
        for text, heading, code, habit in (
            ("1,250", "Length (mm)", "ambiguous-separator", "A comma that may part thousands or decimals."),
            ("4-6", "Length (in)", "ambiguous-hyphen", "Feet and inches, a range or a date."),
            ("36.3", "Length (in)", "decimal-inch", "Decimal, or eighths after a point."),
            (1806, "Length", "no-unit", "No unit anywhere."),
            ("36 1/3", "Length (in)", "denominator", "A third of an inch."),
            ("3' 14\"", "Length", "inches-over-12", "Fourteen inches after feet."),
            ('"', "Length (mm)", "ditto", "A ditto mark below a length."),
            (0, "Length (mm)", "zero", "Zero."),
            (-1806, "Length (mm)", "negative", "A minus sign."),
            ("VIF", "Length (mm)", "note-in-length", "To be verified in the field."),
            ("1806 TBC", "Length (mm)", "note-in-length", "To be confirmed."),
            ("see dwg", "Length (mm)", "note-in-length", "On the drawing."),
            ("1806 ±2", "Length (mm)", "note-in-length", "A tolerance in the cell."),
            ("long", "Length (mm)", "not-a-length", "No length at all."),
            (datetime(2026, 3, 8), "Length (in)", "date-in-length", "3/8 turned into a date."),
            ("08-Mar", "Length (in)", "date-in-length", "3/8 turned into the text of a date."),
            ("2026-03-08", "Length (in)", "date-in-length", "3/8 turned into an ISO date."),
            ("#REF!", "Length (mm)", "error-cell", "A broken reference."),
            (True, "Length (mm)", "truth-value", "TRUE."),
            ("=1800+6", "Length (mm)", "formula-without-value", "A formula nobody ever computed."),
            (9000, "Length (mm)", "", "Longer than a bar, which joints allow."),
        )
        if code
    ),
    Messy(
        name="joints-allowed",
        habit="Longer than any bar, and may be split.",
        build=one_length(9000),
        reads=("1 x 9000",),
        findings=("run-in-sections @ Runs!C2",),
    ),
    Messy(
        name="joints-off",
        habit="Longer than any bar, and must not be split.",
        build=runs([[*HEAD, "Split"], ["A-1", 1, 9000, *A1[3:], "never"]]),
        findings=("longer-than-any-bar @ Runs!C2",),
        reads=("1 x 9000",),
    ),
    Messy(
        name="length-missing",
        habit="A line without its length.",
        build=runs([HEAD, ["A-1", 2, "", *A1[3:]], A2]),
        findings=("length-missing @ Runs!C2",),
    ),
    Messy(
        name="mixed-units",
        habit="One inch length among millimetres, with its unit.",
        build=runs([HEAD, A1, ["A-2", 1, '36 1/4"', *A2[3:]], A3]),
        reads=("2 x 1806", "1 x 920.75", "3 x 1200"),
        findings=("mixed-units @ Runs!C3",),
    ),
    Messy(
        name="mixed-units-and-bare-numbers",
        habit="Inches among bare numbers whose unit only the command line names.",
        build=runs([[*HEAD[:2], "Length", *HEAD[3:]], A1, ["A-2", 1, '36 1/4"', *A2[3:]], A3]),
        findings=("mixed-units @ Runs!C3",),
        options=ReadOptions(unit=Unit.MM),
    ),
    *(
        Messy(
            name=f"feet and inches {text!r}",
            habit="A heading of feet and inches.",
            build=one_length(text, "Length (ft-in)"),
            reads=(f"1 x {read}",),
        )
        # 4 x 304.8 + 6 x 25.4 = 1371.6
        for text, read in (("4-6", "1371.6"), ("3' 4-1/2\"", "1028.7"), ("40 1/2 in", "1028.7"))
    ),
    Messy(
        name="feet-or-inches",
        habit="A bare number under a heading of feet and inches.",
        build=one_length(40, "Length (ft-in)"),
        findings=("no-unit @ Runs!C2",),
    ),
    *(
        Messy(
            name=f"sliver {text!r} under {heading}",
            habit="A length that is hardly meant.",
            build=one_length(text, heading),
            reads=(f"1 x {read}",),
            findings=("very-short @ Runs!C2",),
        )
        for text, heading, read in (
            ("3/8", "Length (in)", "9.525"),
            ("1.806", "Length (mm)", "1.806"),
            ("18", "Length (mm)", "18"),
        )
    ),
    Messy(
        name="no-unit-many",
        habit="No unit anywhere, on many lines: asked once.",
        build=runs([["Run", "Qty", "Length", "Family", "Finish"], A1, A2, A3]),
        findings=("no-unit @ Runs!C2",),
    ),
    Messy(
        name="unit-by-option",
        habit="No unit in the file, but on the command line.",
        build=runs([["Run", "Qty", "Length", "Family", "Finish"], A1]),
        reads=("2 x 1806",),
        options=ReadOptions(unit=Unit.MM),
    ),
]

QUANTITIES = [
    *(
        Messy(
            name=f"{text!r} beside {quantity!r}",
            habit="Quantity and length in one cell.",
            build=one_length(text, heading, quantity),
            reads=(read,),
            findings=findings,
        )
        for text, heading, quantity, read, findings in (
            ("2 @ 36 1/4", "Length (in)", None, "2 x 920.75", ("quantity-in-length @ Runs!C2",)),
            ("2x36-1/4", "Length (in)", None, "2 x 920.75", ("quantity-in-length @ Runs!C2",)),
            ("2 x 1200", "Length (mm)", 2, "2 x 1200", ()),
            ("3 off 1200", "Length (mm)", None, "3 x 1200", ("quantity-in-length @ Runs!C2",)),
        )
    ),
    Messy(
        name="none-at-length",
        habit="Nought pieces of a length, in one cell.",
        build=one_length("0 x 1200", quantity=None),
        findings=("quantity-out-of-range @ Runs!C2",),
    ),
    Messy(
        name="two-quantities",
        habit="The length cell says 2, the quantity column 3.",
        build=one_length("2 x 1200", quantity=3),
        findings=("two-quantities @ Runs!C2",),
    ),
    *(
        Messy(
            name=f"quantity {text!r}",
            habit="A spelling of a quantity.",
            build=one_length(1806, quantity=text),
            reads=(read,),
        )
        for text, read in (
            (2.0, "2 x 1806"),
            ("2 pcs", "2 x 1806"),
            ("x2", "2 x 1806"),
            (None, "1 x 1806"),
            ("2 no.", "2 x 1806"),
        )
    ),
    *(
        Messy(
            name=f"quantity {text!r}",
            habit="No quantity.",
            build=one_length(1806, quantity=text),
            findings=(f"{code} @ Runs!B2",),
        )
        for text, code in (
            ("two", "quantity-not-understood"),
            (1.5, "quantity-not-understood"),
            (0, "quantity-out-of-range"),
            (-2, "quantity-out-of-range"),
            (10**9, "quantity-out-of-range"),
            (datetime(2026, 1, 2), "quantity-not-understood"),
        )
    ),
]

CONSISTENCY = [
    Messy(
        name="duplicate-id",
        habit="A row copied and not corrected.",
        build=runs([HEAD, A1, A1]),
        findings=("duplicate-run-id @ Runs!A3",),
    ),
    Messy(
        name="duplicate-id-of-an-unread-line",
        habit="The first line of an id cannot be read; the second one is told all the same.",
        build=runs([HEAD, ["A-1", 1, "VIF", *A1[3:]], A1]),
        findings=("note-in-length @ Runs!C2", "duplicate-run-id @ Runs!A2"),
    ),
    Messy(
        name="family-called-line",
        habit="A family and a kind that read like headings.",
        build=runs(
            [[*HEAD, "Length kind"], ["A-1", 2, 1806, "LINE", "natural", "opening"]],
            families=[["LINE", "flush"]],
            stock=[["LINE", "natural", 2500]],
        ),
        reads=("2 x 1806",),
    ),
    Messy(
        name="plan-fed-back",
        habit="The workbook of a plan given for its run list.",
        build=runs([HEAD, A1], tab="Cut list", more={"Summary": [["Plan"]], "Order": [["Bars"]]}),
        findings=("plan-not-list @ Cut list",),
    ),
    Messy(
        name="ids-per-unit",
        habit="Run numbers start afresh in every apartment.",
        build=runs([["Unit", *HEAD], ["305", "1", *A1[1:]], ["306", "1", *A2[1:]]]),
        reads=READ_A12,
        findings=("unit-put-before-id @ Runs!D2",),
    ),
    Messy(
        name="date-in-unit",
        habit="Unit 3-05 turned into a date.",
        build=runs([["Unit", *HEAD], [datetime(2026, 3, 5), *A1]]),
        findings=("date-in-name @ Runs!A2",),
    ),
    Messy(
        name="family-unknown",
        habit="A family mistyped.",
        build=runs([HEAD, ["A-1", 2, 1806, "TOLF-17N", "natural"]]),
        findings=("family-unknown @ Runs!D2",),
    ),
    Messy(
        name="family-respelled",
        habit="Family and finish in another case and spacing.",
        build=runs([HEAD, ["A-1", 2, 1806, "tolv 17n", "NATURAL "]]),
        reads=("2 x 1806",),
        findings=("spelling @ Runs!C2", "spelling @ Runs!C2"),
    ),
    Messy(
        name="not-stocked",
        habit="A finish nobody stocks.",
        build=runs([HEAD, A1, ["A-2", 1, 598, "TOLV-17N", "umber"]]),
        findings=("not-stocked @ Runs!E3",),
    ),
    Messy(
        name="stock-row-refused",
        habit="A bar whose length is not clear: its runs are not told besides that nothing of it is stocked.",
        build=runs(
            [HEAD, A1, ["A-2", 1, 598, "TOLV-17N", "umber"]],
            stock=[["TOLV-17N", "umber", "1,250 mm"]],
        ),
        findings=("ambiguous-separator @ Stock!C3",),
    ),
    Messy(
        name="sheets-known-by-headings",
        habit="Tabs with names that say nothing.",
        build=unnamed_tabs(),
        reads=("2 x 1806",),
        findings=("only-offcuts @ A!E2", "struck-row @ B!A3", "text-row @ D!A3", "no-currency @ Saw"),
    ),
    Messy(
        name="several-families",
        habit="No family given, and two it could be.",
        build=runs([["Run", "Length (mm)"], ["A-1", 1806]], families=[["BRASK-20F", "flush"]]),
        findings=("family-missing @ Runs!B2",),
    ),
]

TEXT_FILES = [
    Messy(
        name="csv-utf8-bom",
        habit="A CSV with a byte order mark.",
        build=csv("\ufeffRun,Qty,Length (mm),Family\r\nA-1,2,1806,Tölv\r\n"),
        reads=("2 x 1806",),
        findings=(_PLAIN,),
        options=QUICK,
    ),
    Messy(
        name="csv-utf16-tabs",
        habit="The spreadsheet's Unicode text.",
        build=csv("Run\tQty\tLength (mm)\tFamily\r\nA-1\t2\t1806\tTölv\r\n".encode("utf-16")),
        reads=("2 x 1806",),
        findings=(_PLAIN,),
        options=QUICK,
    ),
    Messy(
        name="csv-cp1252-semicolons",
        habit="Semicolons, decimal commas and an old encoding.",
        build=csv("Run;Qty;Länge;Length (mm);Family\r\nA-1;2;x;1806,5;Tölv\r\n".encode("cp1252")),
        reads=("2 x 1806.5",),
        findings=(_PLAIN, "encoding-guessed @ list.csv"),
        options=QUICK,
    ),
    Messy(
        name="csv-quoted",
        habit="Quoted cells with separators and inch marks inside.",
        build=csv('Run,Qty,Length,Family,Note\r\nA-1,2,"36 1/4""",Tolv,"left, then ""right"""\r\n'),
        reads=("2 x 920.75",),
        findings=(_PLAIN,),
        options=QUICK,
    ),
    Messy(
        name="csv-date",
        habit="3/8 came out of the spreadsheet as 3-Aug.",
        build=csv("Run,Qty,Length (in),Family\nA-1,2,3-Aug,Tolv\n"),
        findings=("date-in-length @ list.csv!C2",),
        options=QUICK,
    ),
    Messy(
        name="csv-error",
        habit="An error value exported as text.",
        build=csv("Run,Qty,Length (mm),Family\nA-1,2,1806,Tolv\nA-2,1,#N/A,Tolv\n"),
        findings=(_PLAIN, "error-cell @ list.csv!C3"),
        options=QUICK,
    ),
    Messy(
        name="csv-no-catalogue",
        habit="A bare CSV without bars or families.",
        build=csv("Run,Qty,Length (mm),Family\nA-1,2,1806,Tolv\n"),
        findings=("no-stock @ list.csv",),
    ),
]

BARE_LISTS = [
    Messy(
        name="two-columns-of-pieces",
        habit="Lengths and quantities alone: pieces that nobody may divide, even the one too long.",
        build=csv("length,quantity\n7000 mm,2\n1200 mm,4\n"),
        reads=("2 x 7000", "4 x 1200"),
        findings=("read-as-pieces @ list.csv", "longer-than-any-bar @ list.csv!A2"),
        options=QUICK,
    ),
    Messy(
        name="one-family-named-once",
        habit="Only one family is named in a list of its own, and not in every line.",
        build=csv("Run,Length (mm),Family\nA-1,1806,Tolv\nA-2,598,\n"),
        reads=("1 x 1806", "1 x 598"),
        findings=(_PLAIN,),
        options=QUICK,
    ),
    Messy(
        name="two-families-and-a-blank",
        habit="A line without family in a list of its own that names two.",
        build=csv("Run,Length (mm),Family\nA-1,1806,Tolv\nA-2,598,\nA-3,700,Brask\n"),
        findings=(_PLAIN, "family-missing @ list.csv!B3"),
        options=QUICK,
    ),
    Messy(
        name="two-columns-that-name-runs",
        habit="The same, but the heading says that they are runs.",
        build=csv("run,length,quantity\nA-1,7000 mm,2\n"),
        reads=("2 x 7000",),
        findings=(_PLAIN, "run-in-sections @ list.csv!B2"),
        options=QUICK,
    ),
]


def priced(heading: str, price: Any, saw: Rows = (), beside: str = "") -> Build:
    """Give a builder of a list whose only bar is priced in Stock, and with lines added to Saw."""

    def build(folder: Path) -> Path:
        book = openpyxl.load_workbook(runs([HEAD, A1])(folder))
        book["Stock"]["D1"], book["Stock"]["D2"] = heading, price
        if beside:
            book["Stock"]["E1"], book["Stock"]["E2"] = beside, price
        for row in saw:
            book["Saw"].append(row)
        return save(folder, book)

    return build


PRICES = [
    *(
        Messy(
            name=f"price {price!r} under {heading}",
            habit="A price with its currency in the heading or the cell.",
            build=priced(heading, price),
            reads=("2 x 1806",),
            findings=(f"{code} @ Stock!{at}",),
        )
        for heading, price, code, at in (
            ("Price EUR", 18.6, "currency-from-prices", "D1"),
            ("Price, EUR", 18.6, "currency-from-prices", "D1"),
            ("EUR/bar", 18.6, "currency-from-prices", "D1"),
            ("USD", 18.6, "currency-from-prices", "D1"),
            ("Net price EUR", "18,60", "currency-from-prices", "D1"),
            ("Price", "18,60 EUR", "currency-from-prices", "D2"),
            ("Price ($)", 18.6, "currency-guessed", "D1"),
            ("List price", "$24.00", "currency-guessed", "D2"),
        )
    ),
    Messy(
        name="rate-without-currency",
        habit="The price is called a rate.",
        build=priced("Rate", 18.6),
        reads=("2 x 1806",),
        findings=("no-currency @ Saw",),
    ),
    Messy(
        name="currency-said-twice-alike",
        habit="The Saw sheet and the heading name the same currency.",
        build=priced("Price EUR", 18.6, saw=[["Currency", "EUR"]]),
        reads=("2 x 1806",),
    ),
    Messy(
        name="currency-said-twice-otherwise",
        habit="The Saw sheet names another currency than the heading.",
        build=priced("Price EUR", 18.6, saw=[["Currency", "USD"]]),
        findings=("currencies-differ @ Stock!D1",),
    ),
    Messy(
        name="two-price-columns",
        habit="Prices in two currencies side by side.",
        build=priced("Price EUR", 18.6, beside="Price USD"),
        findings=("two-columns @ Stock!E1", "currency-from-prices @ Stock!D1"),
    ),
    Messy(
        name="price-per-metre",
        habit="The price is that of a metre, not of a bar.",
        build=priced("Price/m", 7.44),
        findings=("price-per-length @ Stock!D1",),
    ),
    Messy(
        name="price-with-thousands-or-decimals",
        habit="A comma that may part thousands or decimals.",
        build=priced("Price EUR", "1,250"),
        findings=("amount-not-clear @ Stock!D2", "currency-from-prices @ Stock!D1"),
    ),
    Messy(
        name="figures-nobody-reads",
        habit="A column of figures under a heading of the sender's own.",
        build=priced("Betrag", 18.6),
        reads=("2 x 1806",),
        findings=("column-not-read @ Stock!D1",),
    ),
]

ALL = [*LAYOUTS, *HEADINGS, *LENGTHS, *QUANTITIES, *CONSISTENCY, *TEXT_FILES, *BARE_LISTS, *PRICES]
