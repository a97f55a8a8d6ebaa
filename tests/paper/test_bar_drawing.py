"""The bar to scale."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from nesting.paper.bar_drawing import draw_bar, draw_pattern
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.reports.bar_picture import SegmentKind
from nesting.reports.lengths import BothUnits
from tests.paper.plans import gang_plan
from tests.paper.recording import Recorder

BAR = gang_plan().groups[0].bars[0]
BOX = Box(10, 10, 250, 10)  # 2500 mm on 250 mm: 1 to 10


@pytest.fixture
def surface(tmp_path: Path) -> Recorder:
    """Give a recorder of its own."""
    Recorder.made = []
    return Recorder(tmp_path / "bar.pdf", PageSize.A4, "bar")


def test_pieces_lie_to_scale_behind_the_trim(surface: Recorder) -> None:
    """610 mm is 61 mm long at 1 to 10; the second piece starts at 8 + 610 + 3 = 621 mm."""
    draw_bar(surface, BOX, BAR, BothUnits())
    pieces = [box for _, box, fill in surface.framed if fill is None and round(box.width, 6) == 61]
    assert [round(box.x - BOX.x, 6) for box in pieces] == [0.8, 62.1, 123.4, 184.7]


def test_cuts_are_numbered_and_said_in_the_shops_unit(surface: Recorder) -> None:
    """The number in the picture is the number in the table."""
    draw_bar(surface, BOX, BAR, BothUnits())
    assert surface.texts[:8] == ["1", "610 mm", "2", "610 mm", "3", "610 mm", "4", "610 mm"]


def test_a_kerf_is_never_too_thin_to_see(surface: Recorder) -> None:
    """3 mm of 2500 on a picture 50 mm wide would be 0.06 mm."""
    draw_bar(surface, Box(10, 10, 50, 10), BAR, BothUnits())
    black = [box.width for _, box, fill in surface.framed if fill == 0]
    assert len(black) == 1 + 4
    assert min(black) >= 0.35


def test_an_unheld_piece_carries_a_mark(surface: Recorder) -> None:
    """The danger is seen in the picture too."""
    cuts = (*BAR.cuts[:3], replace(BAR.cuts[3], held=False))
    draw_bar(surface, BOX, replace(BAR, cuts=cuts), BothUnits())
    assert "4!" in surface.texts
    assert "3" in surface.texts


@pytest.mark.parametrize(("kind", "directions"), [(SegmentKind.OFFCUT, 1), (SegmentKind.SCRAP, 2)])
def test_tails_are_told_apart_without_colour(
    surface: Recorder, monkeypatch: pytest.MonkeyPatch, kind: SegmentKind, directions: int
) -> None:
    """A kept tail is hatched one way, scrap both ways."""
    drawn: list[tuple[float, float, float, float]] = []
    monkeypatch.setattr(surface, "strokes", lambda strokes, width: drawn.extend(strokes))
    draw_pattern(surface, Box(0, 0, 20, 10), kind)
    assert len({y1 > y2 for _, y1, _, y2 in drawn}) == directions
