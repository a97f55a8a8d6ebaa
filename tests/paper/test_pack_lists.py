"""Pack lists as a document."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nesting.batch.run import plan_request
from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import EndCondition, Place, Run
from nesting.domain.stock import StockLine
from nesting.paper.boxes import unit_boxes
from nesting.paper.pack_lists import write_pack_lists
from nesting.paper.page_size import PageSize
from nesting.reports.lengths import BothUnits
from nesting.units import mm
from tests.paper.recording import Recorder
from tests.reports.plans import example_plan

PLAN = example_plan()


def test_every_floor_and_every_unit_has_its_page(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Three floors (two of the yard, none named for the rush job) and six boxes: nine pages."""
    boxes = unit_boxes(PLAN)
    floors = {(box.job, box.building, box.floor) for box in boxes}
    pages = write_pack_lists(tmp_path / "p.pdf", PLAN, BothUnits(), PageSize.A4)
    assert pages == recorders[0].pages == len(floors) + len(boxes) == 9


def test_a_page_lists_its_own_unit_only(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A box is packed from its page alone: its pieces, a tick for each, its longest piece."""
    write_pack_lists(tmp_path / "p.pdf", PLAN, BothUnits(), PageSize.A4)
    surface = recorders[0]
    ids = {piece.id for piece in PLAN.pieces}
    checked = 0
    for page in range(surface.pages):
        said = [p.text.replace("\N{NO-BREAK SPACE}", " ") for p in surface.printed if p.page == page]
        if "OY-305" in said and "room" in said:
            checked += 1
            (box,) = [box for box in unit_boxes(PLAN) if box.unit == "OY-305"]
            assert sorted(ids & set(said)) == sorted(piece.id for piece, _ in box.pieces)
            ticks = [b for at, b, fill in surface.framed if at == page and fill == 1 and b.width == b.height]
            assert len(ticks) == len(box.pieces) == 7
            assert "longest piece 1803.5 mm (~71 in)" in said
    assert checked == 1


def test_boxes_of_one_unit_name_in_two_buildings_say_their_building_as_large(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """From across the bench two boxes 101, floor 1, were one, and went to one door."""
    pieces = tuple(
        replace(piece, place=Place(("North", "South")[at % 2], "1", "101"))
        for at, piece in enumerate(PLAN.pieces)
    )
    write_pack_lists(tmp_path / "p.pdf", replace(PLAN, pieces=pieces), BothUnits(), PageSize.A4)
    said = [p.text for p in recorders[0].printed]
    assert {"North · 101", "South · 101", "North · floor 1", "South · floor 1"} <= set(said)


def test_an_incomplete_box_says_so_on_both_its_pages(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A box that lacks R-7 cannot be ticked off as complete."""
    write_pack_lists(tmp_path / "p.pdf", PLAN, BothUnits(), PageSize.A4)
    loud = [p.text.replace("\N{NO-BREAK SPACE}", " ") for p in recorders[0].printed if p.white]
    assert "3, 1 MISSING" in loud
    assert "never in this plan" in loud
    assert any(text.startswith("THIS BOX IS NOT COMPLETE") for text in loud)
    assert any(text.startswith("R-7, 5400 mm") for text in loud)


def test_a_box_lists_its_bag(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Small parts are what is left out of a box most easily: each has its count and a tick."""
    run = Run(
        job="J",
        id="R1",
        family="F",
        length=mm(1000),
        left=EndCondition.HOLED_CAP,
        right=EndCondition.SOLID_CAP,
        place=Place(unit="7"),
    )
    family = Family(name="F", clip_spacing=mm(400), clip_edge=mm(100), adhesive_rows=2)
    stock = (StockLine(family="F", length=mm(2000)),)
    request = Request(runs=(run,), families=(family,), stock=stock, saw=DEFAULT_SAW)
    write_pack_lists(tmp_path / "p.pdf", plan_request(request), BothUnits(), PageSize.A4)
    texts = recorders[0].texts
    # 1000 mm: (1000 - 200) / 400 + 1 = 3 clips; two rows of 1 m of tape
    assert {"Bag of small parts", "cap · holed", "cap · solid", "clip", "3", "2 m"} <= set(texts)


def test_a_room_in_many_words_is_read_from_a_higher_row(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A packer tells two rooms of long names apart without a magnifying glass."""
    room = "conservatory and winter garden"
    pieces = tuple(
        replace(piece, place=replace(piece.place, room=room, spot="wall above the long radiators"))
        for piece in PLAN.pieces
    )
    write_pack_lists(tmp_path / "p.pdf", replace(PLAN, pieces=pieces), BothUnits(), PageSize.A4)
    printed = [p.fitted for p in recorders[0].printed if p.text.startswith(room)]
    assert printed
    assert all(fitted.size >= 8.0 and "…" not in "".join(fitted.lines) for fitted in printed)
