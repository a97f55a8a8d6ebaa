"""Sheets of labels."""

from __future__ import annotations

import pytest

from nesting.errors import ProblemError
from nesting.paper.label_grid import LabelGrid
from nesting.paper.page_size import PageSize
from tests.paper.recording import overlap


@pytest.mark.parametrize(("page", "count"), [(PageSize.A4, 24), (PageSize.LETTER, 21)])
def test_a_page_is_filled_without_overlap(page: PageSize, count: int) -> None:
    """A4 takes 3 x 8 of 70 x 37 mm (210 x 296), Letter 3 x 7 (210 x 259)."""
    grid = LabelGrid.filling(page)
    boxes = list(grid.boxes())
    assert len(boxes) == grid.count == count
    assert not any(overlap(a, b) for i, a in enumerate(boxes) for b in boxes[:i])
    grid.check(page)


def test_gaps_and_margins_move_the_labels() -> None:
    """A sheet with gaps is described in millimetres."""
    grid = LabelGrid(columns=2, rows=2, width=90, height=50, left=10, top=12, gap_across=5, gap_down=3)
    last = list(grid.boxes())[-1]
    assert (last.x, last.y) == (10 + 90 + 5, 12 + 50 + 3)


@pytest.mark.parametrize("changed", [{"columns": 4}, {"rows": 9}, {"left": 1.0}])
def test_labels_off_the_page_are_refused(changed: dict[str, int]) -> None:
    """A grid for other paper is named before anything is printed."""
    values = {"columns": 3, "rows": 8, "width": 70, "height": 37, "left": 0, "top": 0} | changed
    with pytest.raises(ProblemError, match="A4 has"):
        LabelGrid(**values).check(PageSize.A4)


@pytest.mark.parametrize(
    "changed", [{"columns": 0}, {"rows": 0}, {"width": 30}, {"height": 20}, {"gap_down": -1}]
)
def test_grids_that_hold_no_readable_label_are_refused(changed: dict[str, int]) -> None:
    """No empty sheets, no labels too small to read."""
    values = {"columns": 3, "rows": 8, "width": 70, "height": 37, "left": 0, "top": 0} | changed
    with pytest.raises(ProblemError):
        LabelGrid(**values)
