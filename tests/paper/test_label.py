"""One label in its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from nesting.errors import ProblemError
from nesting.paper.label import Label, LabelLine, draw_label, print_labels
from nesting.paper.label_grid import LabelGrid
from nesting.paper.page_size import PageSize
from tests.paper.recording import Recorder

GRID = LabelGrid.filling(PageSize.A4)


def label(code: str = "OY-1 7c") -> Label:
    """Give a label of two lines."""
    return Label(beside=(LabelLine("OY-1", 3, 15),), below=(LabelLine("TOLV-17N", 1, 9),), code=code)


@pytest.mark.parametrize(("count", "pages"), [(1, 1), (24, 1), (25, 2), (49, 3)])
def test_sheets_are_filled_before_a_new_one_is_opened(
    tmp_path: Path, recorders: list[Recorder], count: int, pages: int
) -> None:
    """24 labels a sheet of A4."""
    assert print_labels(tmp_path / "l.pdf", PageSize.A4, GRID, [label()] * count, "l") == pages
    assert recorders[0].pages == pages
    assert recorders[0].texts.count("OY-1") == count


def test_everything_stays_inside_the_label_with_a_margin(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A sheet fed a few millimetres off still has its texts and codes on their labels."""
    print_labels(tmp_path / "l.pdf", PageSize.A4, GRID, [label()] * 24, "l")
    places = list(GRID.boxes())
    boxes = [p.box for p in recorders[0].printed] + [box for _, box in recorders[0].codes]
    assert len(recorders[0].codes) == 24
    for box in boxes:
        assert any(
            place.x + 3 <= box.x
            and box.right <= place.right - 3
            and place.y + 3 <= box.y
            and box.bottom <= place.bottom - 3
            for place in places
        )


def test_a_code_keeps_its_quiet_zone(tmp_path: Path) -> None:
    """Four light modules around the code (ISO/IEC 18004) hold no text."""
    Recorder.made = []
    surface = Recorder(tmp_path / "l.pdf", PageSize.A4, "l")
    draw_label(surface, next(GRID.boxes()), label())
    ((_, code),) = surface.codes
    module = code.width / 21  # "OY-1 7c" fits version 1: 21 modules a side
    for printed in surface.printed:
        for ink in printed.ink:
            assert ink.right <= code.x - 4 * module or ink.y >= code.bottom + 4 * module - 1e-6


def test_a_text_too_long_for_a_code_says_so(tmp_path: Path, recorders: list[Recorder]) -> None:
    """No code is better than one that no scanner reads; the text stands beside it anyway."""
    print_labels(tmp_path / "l.pdf", PageSize.A4, GRID, [label("x" * 500)], "l")
    assert recorders[0].codes == []
    assert "too long for a code: read the text" in recorders[0].texts


def test_a_grid_for_other_paper_is_refused(tmp_path: Path) -> None:
    """Nothing is printed half."""
    with pytest.raises(ProblemError):
        print_labels(tmp_path / "l.pdf", PageSize.LETTER, GRID, [label()], "l")
    assert list(tmp_path.iterdir()) == []


def test_a_long_text_takes_two_lines_of_a_type_that_is_read(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """A room in 57 letters is printed in two lines, not in one of half the size; a short one as ever."""
    room = "Conservatory and winter garden · wall above the radiators"

    def printed(where: str) -> tuple[float, int]:
        beside = tuple(LabelLine(text, 6, 11, lines=2) for text in ("OY-1", "OY-301", where, "1176 mm"))
        print_labels(
            tmp_path / "l.pdf", PageSize.A4, GRID, [Label(beside, (LabelLine("job", 11, 8),), "OY-1")], "l"
        )
        (found,) = (p.fitted for p in recorders[-1].printed if p.text == where)
        return found.size, len(found.lines)

    size, lines = printed(room)
    assert size >= 6.0
    assert lines == 2
    assert printed("hall") == (11, 1)
