"""The rows of a block."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from nesting.domain.plan import PlannedBar, TailFate
from nesting.domain.runs import Place
from nesting.paper.book import Book
from nesting.paper.cut_table import CutTable, row_heights
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.reports.gangs import Gang, gangs
from nesting.reports.lengths import BothUnits
from nesting.units import NO_LENGTH, mm
from tests.paper.plans import gang_plan
from tests.paper.recording import Recorder, overlap
from tests.reports.plans import example_plan

PLAN = gang_plan()
GANG = gangs(PLAN.groups[0])[0]


def drawn(tmp_path: Path, gang: Gang, book: Book | None = None, first: int = 1, last: int = 0) -> Recorder:
    """Print a table of all its cuts, or of some."""
    Recorder.made = []
    surface = Recorder(tmp_path / "table.pdf", PageSize.A4, "table")
    table = CutTable(gang, book or Book.of(PLAN, BothUnits()), first, last or len(gang.model.cuts))
    table.draw(surface, Box(10, 20, 190, table.height))
    return surface


def alone(**changes: object) -> Gang:
    """Give the first bar by itself, changed."""
    bar: PlannedBar = replace(GANG.bars[0], **changes)  # type: ignore[arg-type]
    return Gang(GANG.group, (bar,))


def squares(surface: Recorder, side: float) -> int:
    """Count the boxes to tick of one size."""
    return sum(1 for _, box, fill in surface.framed if fill == 1 and box.width == box.height == side)


def test_stops_and_faces_are_said_in_both_units(tmp_path: Path) -> None:
    """Faces of 4 x 610 with a kerf of 3: 610, 1223, 1836, 2449 mm (sum of lengths + (j - 1) k)."""
    said = drawn(tmp_path, alone()).texts
    assert [t for t in said if t in ("610 mm", "1223 mm", "1836 mm", "2449 mm")] == [
        *("610 mm", "610 mm", "610 mm", "1223 mm"),
        *("610 mm", "1836 mm", "610 mm", "2449 mm"),
    ]
    assert said.count("~24 1/64 in") == 5  # four stops and the first face


def test_every_bar_of_a_gang_has_its_own_ids_and_ticks(tmp_path: Path) -> None:
    """Four bars of four cuts: sixteen pieces, sixteen ticks, a tick a bar for the trim, a field a tail."""
    surface = drawn(tmp_path, GANG)
    pieces = [cut.piece for bar in GANG.bars for cut in bar.cuts]
    assert [surface.texts.count(piece) for piece in pieces] == [1] * 16
    assert [f"BAR {bar.number}" for bar in GANG.bars] == [t for t in surface.texts if t.startswith("BAR ")]
    assert squares(surface, 6.0) == 16
    assert squares(surface, 4.6) == 4
    assert surface.texts.count("measured") == 1 + 4  # the column's title, a field for each tail


def test_a_first_off_is_asked_for_at_every_change_of_stop(tmp_path: Path) -> None:
    """Four equal cuts have one first-off and three times the same stop."""
    assert drawn(tmp_path, GANG).texts.count("same stop") == 3
    changed = tuple(replace(cut, length=mm(600 + n)) for n, cut in enumerate(GANG.model.cuts))
    assert "same stop" not in drawn(tmp_path, alone(cuts=changed)).texts


def test_unit_room_and_cover_stand_beside_the_id(tmp_path: Path) -> None:
    """Where it goes, and what its cover must measure when cut in one stroke: 610 - 2 x 8."""
    said = drawn(tmp_path, alone()).texts
    assert "OY-301 / shelf / no. 1" in said
    assert said.count("cover comes to 594 mm (~23 25/64 in)") == 4


def test_a_kept_tail_says_its_tag_and_a_scrap_says_scrap(tmp_path: Path) -> None:
    """The operator never decides by himself what becomes of a tail."""
    kept = drawn(tmp_path, alone(tail=mm(640), fate=TailFate.OFFCUT, tail_tag="5D20-1")).texts
    assert {"expect 640 mm", "KEEP: measure, label, rack", "5D20-1"} <= set(kept)
    scrap = drawn(tmp_path, alone()).texts
    # 2500 - 8 - 4 x 613 = 40
    assert {"expect 40 mm", "SCRAP: measure first"} <= set(scrap)


def test_a_last_piece_without_a_stroke_says_so(tmp_path: Path) -> None:
    """Where the bar's end is the piece's end nobody sets a stop for it."""
    exact = alone(strokes=4, tail=NO_LENGTH, fate=TailFate.NONE)
    said = drawn(tmp_path, exact).texts
    assert "no stroke: the rest is the piece" in said
    assert "none: nothing is left" in said


def test_a_part_ends_with_where_it_goes_on(tmp_path: Path) -> None:
    """No tail is expected in the middle of a bar, and no second trim behind it."""
    first = drawn(tmp_path, alone(), last=2).texts
    assert "the bar goes on: cut 3 follows on the next page" in first
    assert "tail" not in first
    second = drawn(tmp_path, alone(), first=3, last=4).texts
    assert "trim" not in second
    assert "tail" in second


def test_rows_make_room_for_covers_and_neighbours() -> None:
    """A row is as high as what it has to say."""
    plain = next(gang for group in example_plan().groups[1:2] for gang in gangs(group))
    assert not plain.group.cover_follows
    book = Book.of(PLAN, BothUnits())
    lowest = row_heights(plain, Book.of(example_plan(), BothUnits()))
    assert lowest[0] < row_heights(alone(), book)[0] < row_heights(GANG, book)[0]


def test_a_mitred_cut_says_its_angle_once_and_each_bar_how_it_lies(tmp_path: Path) -> None:
    """The stop alone gives a square piece; in one block a piece may lie turned beside one that does not."""
    bars = []
    for number, bar in enumerate(GANG.bars[:2]):
        sloped = replace(bar.cuts[0], long_point=mm(617), slope_end=Fraction(-45, 2), turned=number == 1)
        bars.append(replace(bar, cuts=(sloped, *bar.cuts[1:])))
    gang = Gang(GANG.group, tuple(bars))
    said = drawn(tmp_path, gang).texts
    assert [text for text in said if "mitre" in text] == ["| 1 \\: mitre 22.5° \\"]
    assert [text for text in said if "TURNED" in text] == ["TURNED, cover 594 mm"]  # 610 - 16
    assert "617 mm" in said
    assert bars[1].cuts[0].piece in said
    book = Book.of(PLAN, BothUnits())
    assert row_heights(gang, book)[0] > row_heights(Gang(GANG.group, GANG.bars[:2]), book)[0]


def test_a_place_beside_other_bars_is_read_without_effort(tmp_path: Path) -> None:
    """Four bars abreast leave 25 mm a piece: unit, room and spot take the width under the box to tick."""
    surface = drawn(tmp_path, GANG)
    places = [p for p in surface.printed if p.text.replace("\N{NO-BREAK SPACE}", " ").endswith("no. 1")]
    assert len(places) == 4
    assert all(p.fitted.size >= 6.5 for p in places)
    ticks = [box for _, box, fill in surface.framed if fill == 1 and box.width == box.height == 6.0]
    assert not any(overlap(ink, tick) for p in places for ink in p.ink for tick in ticks)


def test_only_the_row_of_a_long_place_is_higher() -> None:
    """A bar is not parted over two pages because of one room's name."""
    long = Place(
        "Orrelbeck Yard", "3", "OY-301", "conservatory and winter garden " * 3, "above the radiators"
    )
    bar = GANG.bars[0]
    pieces = tuple(replace(p, place=long) if p.id == bar.cuts[1].piece else p for p in PLAN.pieces)
    low, high, *others = row_heights(alone(), Book.of(replace(PLAN, pieces=pieces), BothUnits()))
    assert high > low
    assert set(others) == {low}


def test_a_long_place_beside_other_bars_makes_the_rows_higher(tmp_path: Path) -> None:
    """57 letters in 22 mm are printed whole, on as many lines as it takes."""
    where = Place("Orrelbeck Yard", "3", "OY-301", "conservatory and winter garden", "above the radiators")
    pieces = tuple(replace(piece, place=where) for piece in PLAN.pieces)
    book = Book.of(replace(PLAN, pieces=pieces), BothUnits())
    places = [
        p.fitted
        for p in drawn(tmp_path, GANG, book).printed
        if p.text.startswith("OY-301\N{NO-BREAK SPACE}/")
    ]
    assert len(places) == 16
    assert all(fitted.size >= 6.5 and "…" not in "".join(fitted.lines) for fitted in places)
