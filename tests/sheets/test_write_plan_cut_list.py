from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from nesting.domain.pieces import Piece
from nesting.domain.runs import Run
from nesting.domain.status import Status
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments, cells_of
from nesting.reports.slope_words import slope_notes
from nesting.reports.whereabouts import bars_in_order
from nesting.sheets.plan_bar_band import GRID, band_label
from nesting.sheets.write_plan import write_plan
from nesting.units import inches, mm
from tests.paper.plans import mitred_plan
from tests.reports.plans import SAW, TOLV, example_plan, group_of

PLAN = example_plan()
BARS = {bar.number: bar for _, bar in bars_in_order(PLAN)}


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Any:
    path = tmp_path_factory.mktemp("book") / "plan.xlsx"
    write_plan(PLAN, path)
    return openpyxl.load_workbook(path)["Cut list"]


def title_rows(sheet: Any) -> dict[int, int]:
    """Give the title row of each block by the number of its first bar."""
    firsts = ((c.row, str(c.value)) for (c,) in sheet.iter_rows(max_col=1) if c.value and c.font.size == 14)
    titles = ((row, re.match(r"Bars? (\d+)", said)) for row, said in firsts)
    return {int(found[1]): row for row, found in titles if found}


def spans_of(sheet: Any, row: int) -> list[tuple[int, int]]:
    """Give first and last column of every merged range of a row, from left to right."""
    return sorted((r.min_col, r.max_col) for r in sheet.merged_cells.ranges if r.min_row == row)


def values_of(sheet: Any, row: int) -> list[Any]:
    return [cell.value for cell in sheet[row] if cell.value is not None]


def test_there_is_one_block_for_every_bar_or_gang(sheet: Any) -> None:
    """Bars 12 to 14 are cut alike and share a block; every other bar has its own."""
    assert list(title_rows(sheet)) == [n for n in range(1, 20) if n not in (13, 14)]
    assert sheet.cell(title_rows(sheet)[12], 1).value == "Bars 12-14"


def test_no_bar_piece_or_box_is_lost_in_a_gang(sheet: Any) -> None:
    """Each of the three bars has a line with its number, its own pieces in order, and an empty box each."""
    cells = {str(c.value): c for row in sheet.iter_rows() for c in row if c.value is not None}
    for number in (12, 13, 14):
        name = cells[f"Bar {number}"]
        for cut in BARS[number].cuts:
            found = cells[cut.piece]
            assert found.row == name.row
            span = next(
                r for r in sheet.merged_cells.ranges if r.min_row == found.row and r.min_col == found.column
            )
            box = sheet.cell(found.row, span.max_col + 1)
            assert (box.value, box.border.left.style, box.border.bottom.style) == (None, "thin", "thin")


def test_every_piece_stands_in_the_cut_list_exactly_once(sheet: Any) -> None:
    """A piece that is not on the list is not cut."""
    said = Counter(str(c.value) for row in sheet.iter_rows() for c in row if c.value is not None)
    placed = [cut.piece for bar in BARS.values() for cut in bar.cuts]
    assert {piece: said[piece] for piece in placed} == dict.fromkeys(placed, 1)


@pytest.mark.parametrize("number", [1, 2, 16, 17, 18])
def test_pieces_are_drawn_in_proportion(sheet: Any, number: int) -> None:
    """Merged widths follow the lengths within one narrow column."""
    bar = BARS[number]
    pieces = [s for s in bar_segments(bar) if s.kind is SegmentKind.PIECE]
    spans = spans_of(sheet, title_rows(sheet)[number] + 1)
    widths = [last - first + 1 for first, last in spans]
    drawn = widths[: len(pieces)]
    for segment, width in zip(pieces, drawn, strict=True):
        assert abs(width - segment.length * GRID / bar.length) < 1.5


def test_a_shorter_bar_is_drawn_shorter(sheet: Any) -> None:
    """In a group every bar has one scale: the 2000 mm bar ends at 96 of 120 columns."""
    last = max(last for _, last in spans_of(sheet, title_rows(sheet)[19] + 1))
    assert last == 2000 * GRID // 2500


def test_the_picture_tells_its_parts_apart_without_colour(sheet: Any) -> None:
    """Strokes are thick lines, the trim is solid, kept tails are dashed, scrap carries slashes."""
    row = title_rows(sheet)[17] + 1
    trim, first = sheet.cell(row, 1), sheet.cell(row, 2)
    assert trim.fill.fgColor.rgb == "FF22313A"
    assert first.value == "1\n920.5"
    (second_at, _), (tail_at, tail_end) = spans_of(sheet, row)[1:]
    assert sheet.cell(row, second_at).border.left.style == "thick"
    tail = sheet.cell(row, tail_at)
    assert (tail.value, tail.border.top.style) == ("keep 7C1F-17\n645", "mediumDashed")
    assert tail_end == GRID
    scrap_row = title_rows(sheet)[16] + 1
    scrap_at = spans_of(sheet, scrap_row)[-1][0]
    assert sheet.cell(scrap_row, scrap_at).value == "scrap 325.5"


def test_a_cut_has_everything_the_saw_needs(sheet: Any) -> None:
    """Order, stop in both units, face, piece, job, room and cover, with units in the cells."""
    row = title_rows(sheet)[18] + 3
    assert values_of(sheet, row) == [
        *("2", 777.5, "~30 39/64 in", 1701, "OY-304-2", "OY", "OY-304 / mirror", 761.5)
    ]
    stop = sheet.cell(row, 7)
    assert (stop.number_format, stop.font.bold, stop.font.size) == ('0.0" mm"', True, 14)


def test_stop_lengths_are_exact(sheet: Any) -> None:
    """Read back and rounded to nanometres, every stop and face is the plan's own."""
    for number, row in title_rows(sheet).items():
        for offset, cut in enumerate(BARS[number].cuts):
            found = values_of(sheet, row + 2 + offset)
            assert round(found[1] * 10**6) == cut.length
            assert round(found[3] * 10**6) == cut.face


def test_the_tail_says_what_becomes_of_it(sheet: Any) -> None:
    """Keep with a tag to print, scrap, or nothing: with a box for the measured tail."""
    rows = title_rows(sheet)
    assert sheet.cell(rows[3] + 4, 1).value == (
        "Tail expected: 1084 mm (~42 43/64 in): KEEP as offcut, print tag 7C1F-3"
    )
    assert sheet.cell(rows[1] + 4, 1).value == "Tail expected: 32 mm (~1 17/64 in): scrap"
    assert sheet.cell(rows[11] + 3, 1).value == "Tail expected: nothing is left"


def test_sources_are_named(sheet: Any) -> None:
    """A new bar and an offcut from the rack are told apart at once."""
    rows = title_rows(sheet)
    assert "new bar 3000 mm" in values_of(sheet, rows[1])
    assert "OFFCUT OC-0112, rack B3, 1815 mm" in values_of(sheet, rows[10])


def test_dangerous_cuts_are_marked_in_their_block(sheet: Any) -> None:
    """The third cut of bar 2 is not held, bar 11 ends in a sliver; both are said where they are cut."""
    rows = title_rows(sheet)
    assert values_of(sheet, rows[2] + 4)[0] == "3 !"
    assert sheet.cell(rows[2] + 6, 1).value.startswith("CAUTION cut 3: piece and rest are too short to hold.")
    assert sheet.cell(rows[11] + 4, 1).value.startswith("CAUTION last stroke: less than a kerf")


def test_pages_never_end_inside_a_block(sheet: Any) -> None:
    """A break stands above a bar's title, or above its material's heading, nowhere else."""
    starts = set(title_rows(sheet).values())
    breaks = [b.id for b in sheet.row_breaks.brk]
    assert len(breaks) >= 3
    for above in breaks:
        heading = str(sheet.cell(above + 1, 1).value) in {str(g.material) for g in PLAN.groups}
        assert above + 1 in starts or heading


def test_blocks_fit_their_pages(sheet: Any) -> None:
    """Rows between two breaks are lower than A4 landscape between its margins at the print scale."""
    ends = [*(b.id for b in sheet.row_breaks.brk), sheet.max_row]
    heights = {row: sheet.row_dimensions[row].height or 15.0 for row in range(1, sheet.max_row + 1)}
    titles = sum(heights[row] for row in (1, 2, 3))
    # 210 mm is 595.3 points; margins are 0.45 and 0.65 inch of 72 points.
    room = (595.3 - 1.1 * 72) / (sheet.page_setup.scale / 100)
    first = 4
    for end in ends:
        assert titles + sum(heights[row] for row in range(first, end + 1)) <= room
        first = end + 1


@pytest.mark.parametrize("inch_plan", [True, False])
def test_the_big_stop_is_in_one_unit_from_the_first_line_to_the_last(tmp_path: Path, inch_plan: bool) -> None:
    """41 63/64 in is 1066.403125 mm: inches are large where all input is in inches, and nowhere else."""
    length = inches("41 63/64")
    piece = Piece(id="P1", job="OY", run="P1", material=TOLV, length=length, exact=length)
    group = group_of(TOLV, (piece,), (1,), SAW, priced=True, first=1)
    run = Run(job="OY", id="P1", family="TOLV-17N", length=length)
    bars = tuple(replace(line, length=inches(96)) for line in PLAN.request.stock)
    stock = bars if inch_plan else PLAN.request.stock
    request = replace(PLAN.request, runs=(run,), stock=stock)
    plan = replace(
        PLAN, request=request, pieces=(piece,), groups=(group,), order=(), jobs=(), strips=(), unplaced=()
    )
    write_plan(plan, tmp_path / "plan.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
    row = title_rows(sheet)[1] + 2
    first, second = sheet.cell(row, 7), sheet.cell(row, 25)  # behind 6 columns, and behind 6 + 18
    shown = '0.0" mm"'  # 1066.403125 mm, of which people read hundredths: 1066.40
    if inch_plan:
        assert (first.value, second.value, second.number_format) == ("41 63/64 in", 1066.403125, shown)
        assert (first.font.size, second.font.size) == (14, 10)
        assert sheet.cell(3, 7).value == "stop (inch)"
        assert sheet.cell(row - 1, 2).value == "1\n41 63/64"
    else:
        assert (first.value, second.value, first.number_format) == (1066.403125, "41 63/64 in", shown)
        assert (first.font.size, second.font.size) == (14, 10)
        assert sheet.cell(3, 7).value == "stop (mm)"
    assert first.font.bold


def test_a_size_that_is_not_verified_is_marked_at_its_cut(tmp_path: Path) -> None:
    """The mark stands before the piece and in a line of the block; marked bars leave their gang."""
    runs = tuple(
        replace(run, status=Status.DRAWING) if run.id == "OY-304-1" else run for run in PLAN.request.runs
    )
    plan = replace(PLAN, request=replace(PLAN.request, runs=runs))
    write_plan(plan, tmp_path / "plan.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
    said = [str(c.value) for row in sheet.iter_rows() for c in row if c.value is not None]
    assert [text for text in said if text.startswith("VERIFY")] == [
        "VERIFY  OY-304-1",
        "VERIFY CUT 1: size not verified on site. Do not cut it before it is measured.",
    ]
    summary = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Summary"]
    texts = [c.value for row in summary.iter_rows() for c in row]
    assert "1 of 38 pieces comes from a size not yet verified: do not cut it." in texts


def test_a_bar_of_offset_covers_says_how_they_come_out_shorter(tmp_path: Path) -> None:
    """Noses of 8 mm at both ends: 16 mm shorter, and a measure to check it by."""
    groups = (*PLAN.groups[:3], replace(PLAN.groups[3], cover_follows=True))
    write_plan(replace(PLAN, groups=groups), tmp_path / "plan.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
    said = [str(c.value) for row in sheet.iter_rows() for c in row if str(c.value).startswith("Covers")]
    assert len(said) == 8  # bars 10 and 11, the gang 12 to 14, bars 15 to 19
    assert all(text.endswith("check: cover 16 mm shorter than the channel.") for text in said)


def test_a_large_gang_is_parted_so_that_no_block_outgrows_a_page(tmp_path: Path) -> None:
    """Two hundred bars alike go over several pages, each with its title, picture and stops."""
    pieces = tuple(
        Piece(id=f"P{n}", job="OY", run=f"P{n}", material=TOLV, length=mm(2400), exact=mm(2400))
        for n in range(300)
    )
    group = group_of(TOLV, pieces, (1,), SAW, priced=True, first=1)
    plan = replace(PLAN, pieces=pieces, groups=(group,), order=(), jobs=(), strips=(), unplaced=())
    write_plan(plan, tmp_path / "plan.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
    assert len(title_rows(sheet)) > 1
    test_blocks_fit_their_pages(sheet)
    said = Counter(str(c.value) for row in sheet.iter_rows() for c in row if c.value is not None)
    assert all(said[piece.id] == 1 for piece in pieces)
    assert all(said[f"Bar {bar.number}"] == 1 for bar in group.bars)


def test_a_gang_of_many_cuts_flows_over_lines(tmp_path: Path) -> None:
    """Twelve pieces a bar are more than a line holds; each keeps its box beside it."""
    pieces = tuple(
        Piece(id=f"OY-{n}", job="OY", run=f"OY-{n}", material=TOLV, length=mm(190), exact=mm(190))
        for n in range(24)
    )
    group = group_of(TOLV, pieces, (1,), SAW, priced=True, first=1)
    assert [len(bar.cuts) for bar in group.bars] == [12, 12]
    plan = replace(PLAN, pieces=pieces, groups=(group,), order=(), jobs=(), strips=(), unplaced=())
    write_plan(plan, tmp_path / "plan.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
    assert sheet.max_column == GRID
    said = Counter(str(c.value) for row in sheet.iter_rows() for c in row if c.value is not None)
    assert all(said[piece.id] == 1 for piece in pieces)


def test_long_names_are_set_smaller_not_cut_off(tmp_path: Path) -> None:
    """A job a little longer than its field is one small line, a much longer one two."""
    sizes = []
    for job in ("OY", "Orrelbeck Yard", "Orrelbeck Yard, north wing"):
        pieces = tuple(replace(piece, job=job) for piece in PLAN.pieces)
        write_plan(replace(PLAN, pieces=pieces), tmp_path / "plan.xlsx")
        sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
        cell = next(c for c in sheet[title_rows(sheet)[1] + 2] if c.value == job)
        sizes.append((cell.font.size, bool(cell.alignment.wrap_text)))
    assert sizes == [(10, False), (8, False), (8, True)]


def test_very_many_pieces_still_make_a_block(tmp_path: Path) -> None:
    """130 pieces of 10 mm in one bar are more than the grid has columns."""
    pieces = tuple(
        Piece(id=f"P{n}", job="OY", run=f"P{n}", material=TOLV, length=mm(10), exact=mm(10))
        for n in range(130)
    )
    group = group_of(TOLV, pieces, (1,), SAW, priced=True, first=1)
    plan = replace(PLAN, pieces=pieces, groups=(group,), order=(), jobs=(), strips=(), unplaced=())
    write_plan(plan, tmp_path / "plan.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Cut list"]
    assert sheet.max_column == GRID
    assert len(group.bars) == 1
    assert sum(cells_of(bar_segments(group.bars[0]), GRID)) == GRID


@pytest.mark.parametrize(
    ("kind", "cells", "label"),
    [
        (SegmentKind.PIECE, 6, "3\n1250"),
        (SegmentKind.PIECE, 3, "3"),
        (SegmentKind.PIECE, 1, ""),
        (SegmentKind.OFFCUT, 12, "keep T-1\n1250"),
        (SegmentKind.OFFCUT, 4, "keep\n1250"),
        (SegmentKind.SCRAP, 30, "/// scrap 1250 ///"),
        (SegmentKind.SCRAP, 3, "///"),
        (SegmentKind.TRIM, 9, ""),
    ],
)
def test_a_label_shortens_until_it_fits(kind: SegmentKind, cells: int, label: str) -> None:
    """A clipped number could be read as another one, so a label is whole or shorter in words."""
    tag = "T-1" if kind is SegmentKind.OFFCUT else ""
    assert band_label(Segment(kind, mm(0), mm(1250), tag, 3), cells) == label


def test_a_block_of_mitres_says_what_stop_and_face_are(tmp_path: Path) -> None:
    """Protects the workbook's saw from other words than the printed sheet's, turned pieces included."""
    path = tmp_path / "plan.xlsx"
    plan = mitred_plan()
    write_plan(plan, path)
    said = {str(cell.value) for row in openpyxl.load_workbook(path)["Cut list"].iter_rows() for cell in row}
    noted = {note for group in plan.groups for note in slope_notes(group.bars)}
    assert {note.partition(" ")[0] for note in noted} >= {"Stop", "TURNED:"}
    assert noted <= said
