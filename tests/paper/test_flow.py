"""Blocks on pages."""

from __future__ import annotations

from pathlib import Path

from nesting.paper.faces import Face
from nesting.paper.flow import (
    Following,
    Line,
    Section,
    Space,
    Stack,
    content_height,
    content_width,
    paginate,
    paragraph,
    print_pages,
)
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from tests.paper.recording import Recorder


def test_blocks_are_never_parted_and_none_is_lost() -> None:
    """Three blocks of 40 on pages of 100: two and one; order stays."""
    blocks = tuple(Space(40) for _ in range(3))
    pages = paginate((Section((), blocks),), 100)
    assert [len(page) for _, page in pages] == [2, 1]
    assert tuple(block for _, page in pages for block in page) == blocks


def test_a_head_takes_its_room_on_every_page() -> None:
    """With a head of 30 only one block of 40 fits a page of 100."""
    pages = paginate((Section((Space(30),), (Space(40), Space(40))),), 100)
    assert [len(page) for _, page in pages] == [1, 1]


def test_a_section_opens_a_page_of_its_own() -> None:
    """Two materials never share a sheet, however little there is of them."""
    assert len(paginate((Section((), (Space(1),)), Section((), (Space(1),))), 100)) == 2


def test_a_block_higher_than_a_page_stands_alone() -> None:
    """It is printed all the same, with nothing beside it."""
    pages = paginate((Section((), (Space(10), Space(500), Space(10))),), 100)
    assert [[block.height for block in page] for _, page in pages] == [[10], [500], [10]]


def test_what_stands_above_is_repeated_where_a_block_opens_a_page() -> None:
    """Headings of 10 over rows of 40 on pages of 100: two rows a page, and headings on each."""
    headings = Space(10)
    rows = tuple(Following(Space(40), headings) for _ in range(5))
    pages = paginate((Section((), (headings, *rows)),), 100)
    assert [[block.height for block in page] for _, page in pages] == [[10, 40, 40], [10, 40, 40], [10, 40]]
    assert [block for _, page in pages for block in page if block is not headings] == list(rows)


def test_nothing_is_repeated_above_a_block_that_would_leave_the_page_with_it() -> None:
    """A row as high as the page stands on it alone."""
    pages = paginate((Section((), (Space(10), Following(Space(95), Space(10)))),), 100)
    assert [[block.height for block in page] for _, page in pages] == [[10], [95]]


def test_a_list_says_at_its_foot_that_it_goes_on(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Two lists of two pages and one: only the first page of the first has more to come."""
    room = content_height(PageSize.A4)
    long = Section((), (Space(room), Space(room)), one_list=True)
    short = Section((), (Space(1),), one_list=True)
    parts = Section((), (Space(room), Space(room)))
    print_pages(
        tmp_path / "a.pdf",
        PageSize.A4,
        (long, short, parts),
        name="Pack lists",
        plan_id="7c1f",
        title="Orrelbeck Yard",
        note="Tick each piece.",
    )
    said = [(p.page, p.text, p.white) for p in recorders[0].printed if p.text.startswith("goes on")]
    assert said == [(0, "goes on: page 2", True)]


def test_a_stack_is_as_high_as_its_parts() -> None:
    """A heading keeps the first row of its table with it."""
    assert Stack((Space(4), Space(6.5))).height == 10.5


def test_a_paragraph_fills_lines_of_its_width() -> None:
    """Long cautions become lines that may part at a page's end, loud or not."""
    words = "clamp with a shaped block and a stop " * 8
    quiet, loud = paragraph(words, 80), paragraph(words, 80, loud=True)
    assert 1 < len(quiet) <= len(loud)
    assert all(isinstance(line, Line) for line in quiet)


def test_every_page_says_which_of_how_many(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A sheet that fell off the bench is missed: page x of y, plan and document on each."""
    room = content_height(PageSize.A4)
    count = print_pages(
        tmp_path / "a.pdf",
        PageSize.A4,
        (Section((), tuple(Space(room) for _ in range(3))),),
        name="Cut sheets",
        plan_id="7c1f",
        title="Orrelbeck Yard",
        note="Measure.",
    )
    assert count == recorders[0].pages == 3
    for number in (1, 2, 3):
        said = [p.text for p in recorders[0].printed if p.page == number - 1]
        assert {f"page {number} of 3", "plan 7c1f", "Cut sheets", "Orrelbeck Yard", "Measure."} <= set(said)


def test_the_margins_are_the_same_on_both_papers() -> None:
    """Letter is wider and lower than A4 by the papers' difference only."""
    assert content_width(PageSize.LETTER) - content_width(PageSize.A4) == 215.9 - 210
    assert round(content_height(PageSize.A4) - content_height(PageSize.LETTER), 6) == round(297 - 279.4, 6)


def test_a_loud_line_is_white_on_black(tmp_path: Path) -> None:
    """Warnings are seen from a distance."""
    surface = _surface(tmp_path)
    (line,) = paragraph("Stop.", 100, face=Face.BOLD, loud=True)
    line.draw(surface, Box(10, 10, 100, line.height))
    assert surface.printed[0].white
    assert surface.framed[0][2] == 0


def _surface(tmp_path: Path) -> Recorder:
    Recorder.made = []
    return Recorder(tmp_path / "line.pdf", PageSize.A4, "line")
