"""Blocks of the cut sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from nesting.domain.plan import Plan
from nesting.domain.status import Status
from nesting.paper.book import Book
from nesting.paper.cut_block import CutBlock, cut_blocks
from nesting.paper.flow import content_height
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.reports.gangs import gangs
from nesting.reports.lengths import BothUnits
from tests.paper.plans import crowded_plan, gang_plan, mitred_plan
from tests.paper.recording import Recorder
from tests.reports.plans import example_plan

ROOM = content_height(PageSize.A4) - 19


def blocks_of(plan: Plan) -> list[CutBlock]:
    """Give every block of a plan."""
    book = Book.of(plan, BothUnits())
    return [b for group in plan.groups for gang in gangs(group) for b in cut_blocks(gang, book, ROOM)]


def printed(block: CutBlock, tmp_path: Path) -> Recorder:
    """Print one block on a page of its own."""
    Recorder.made = []
    surface = Recorder(tmp_path / "block.pdf", PageSize.A4, "block")
    block.draw(surface, Box(10, 20, 190, block.height))
    return surface


def test_a_block_stays_whole_where_a_page_can_hold_it() -> None:
    """One block a gang, every cut in it."""
    plan = example_plan()
    blocks = blocks_of(plan)
    assert len(blocks) == sum(len(gangs(group)) for group in plan.groups)
    assert all((b.first, b.last) == (1, len(b.gang.model.cuts)) for b in blocks)


def test_a_bar_of_too_many_cuts_is_continued_with_its_warning(tmp_path: Path) -> None:
    """Sixty cuts go on over pages, none twice, each part naming its cuts and the danger again."""
    blocks = blocks_of(crowded_plan())
    assert len(blocks) > 1
    assert all(block.height <= ROOM for block in blocks)
    assert [n for b in blocks for n in range(b.first, b.last + 1)] == list(range(1, 61))
    for block in blocks:
        said = printed(block, tmp_path).texts
        assert any(text.startswith(f"CUTS {block.first} TO {block.last} OF 60 ONLY") for text in said)
        assert any("CANNOT BE HELD" in text for text in said)


def test_an_unsafe_bar_is_never_printed_without_its_warning(tmp_path: Path) -> None:
    """Banner, inverted cut number and the word at the cut itself: on unsafe bars, and on no other."""
    blocks = blocks_of(example_plan())
    unsafe = [b for b in blocks if any(not cut.held for cut in b.gang.model.cuts)]
    assert [bar.number for b in unsafe for bar in b.gang.bars] == [2]
    for block in blocks:
        surface = printed(block, tmp_path)
        marks = [p for p in surface.printed if p.white and p.text == "!3"]
        shouted = [p for p in surface.printed if p.white and "CANNOT BE HELD" in p.text]
        assert len(marks) == len(shouted) == surface.texts.count("CLAMP") == (1 if block in unsafe else 0)


def test_the_longest_warning_is_printed_as_large_as_the_shortest(tmp_path: Path) -> None:
    """What endangers a hand takes two lines rather than small type."""
    block = next(b for b in blocks_of(example_plan()) if any(not cut.held for cut in b.gang.model.cuts))
    (warning,) = (p.fitted for p in printed(block, tmp_path).printed if "CANNOT BE HELD" in p.text)
    assert warning.size == 10.0
    assert len(warning.lines) == 2


def test_a_sliver_is_printed_with_its_warning(tmp_path: Path) -> None:
    """Offcut OC-0107 leaves 2.5 mm to a blade of 3 mm."""
    (block,) = [b for b in blocks_of(example_plan()) if b.gang.model.sliver]
    said = printed(block, tmp_path).texts
    assert any("LESS THAN A KERF" in text for text in said)
    assert "none: the blade takes the rest" in said


def test_an_offcut_is_named_with_tag_and_rack_place(tmp_path: Path) -> None:
    """Nobody cuts a new bar in place of the offcut, or looks for it elsewhere."""
    block = next(b for b in blocks_of(example_plan()) if b.gang.model.offcut)
    surface = printed(block, tmp_path)
    assert [p.text for p in surface.printed if p.white][:2] == ["OFFCUT OC-0112", "rack B3"]
    assert "▶ clean end first: no trim" in surface.texts
    assert "trim" not in surface.texts


def test_a_rack_place_in_many_words_has_a_line_of_its_own(tmp_path: Path) -> None:
    """Beside the tag there is room for two short lines; nobody looks for an offcut behind an ellipsis."""
    place = "hall 3, rack on the south wall, bay 17, lower left behind the pillar"
    plan = example_plan()
    offcuts = tuple(replace(offcut, place=place) for offcut in plan.request.offcuts)
    plan = replace(plan, request=replace(plan.request, offcuts=offcuts))
    block = next(b for b in blocks_of(plan) if b.gang.model.offcut)
    surface = printed(block, tmp_path)
    (line,) = (p.fitted for p in surface.printed if place in p.text)
    assert line.lines == (f"Rack place: {place}",)
    assert line.size >= 9.0
    assert "rack place below" in surface.texts


@pytest.mark.parametrize(("count", "name"), [(0, "BARS 1-4"), (2, "BARS 9-10")])
def test_bars_cut_alike_say_how_many_and_which(tmp_path: Path, count: int, name: str) -> None:
    """The gang's numbers and its size are in big type."""
    block = blocks_of(gang_plan())[count]
    said = printed(block, tmp_path).texts
    assert name in said
    assert f"cut {len(block.gang.bars)} bars alike" in said


def test_a_size_that_is_not_verified_is_marked_at_its_cut(tmp_path: Path) -> None:
    """Banner and plate at the cut: on the bars that hold such a piece, and on no other."""
    plan = example_plan()
    runs = tuple(
        replace(run, status=Status.VERIFY) if run.id == "OY-304-6" else run for run in plan.request.runs
    )
    plan = replace(plan, request=replace(plan.request, runs=runs))
    book = Book.of(plan, BothUnits())
    for group in plan.groups:
        for gang in gangs(group, unverified=book.unverified):
            surface = printed(cut_blocks(gang, book, ROOM)[0], tmp_path)
            plates = [p for p in surface.printed if p.white and p.text == "VERIFY"]
            banners = [p for p in surface.printed if p.white and p.text.startswith("VERIFY CUT ")]
            there = any(cut.piece == "OY-304-6" for bar in gang.bars for cut in bar.cuts)
            assert len(plates) == len(banners) == there


def test_a_block_of_mitres_says_what_its_stop_and_marks_mean(tmp_path: Path) -> None:
    """Long point, slopes, turned pieces: on the block, not on a page that lies elsewhere."""
    (block, *_) = blocks_of(mitred_plan())
    texts = printed(block, tmp_path).texts
    assert any(text.startswith("Stop = long point.") for text in texts)
    assert any(text.startswith("TURNED: ") for text in texts)
    (square, *_) = blocks_of(gang_plan())
    assert not any(text.startswith(("Stop =", "TURNED: ")) for text in printed(square, tmp_path).texts)
