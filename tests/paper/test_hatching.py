"""Patterns and boxes."""

from __future__ import annotations

import pytest

from nesting.paper.hatching import Box, slanted


@pytest.mark.parametrize("rising", [True, False])
@pytest.mark.parametrize("box", [Box(10, 20, 30, 8), Box(0, 0, 3, 12), Box(5, 5, 0.5, 0.5)])
def test_strokes_stay_inside_and_slant_one_to_one(box: Box, rising: bool) -> None:
    """A pattern never leaves its stretch of the bar, and both directions cross at right angles."""
    strokes = list(slanted(box, 0.7, rising=rising))
    assert strokes or box.width + box.height < 0.7
    for x1, y1, x2, y2 in strokes:
        assert box.x - 1e-9 <= x1 <= x2 <= box.right + 1e-9
        assert box.y - 1e-9 <= min(y1, y2)
        assert max(y1, y2) <= box.bottom + 1e-9
        assert y1 - y2 == pytest.approx((x2 - x1) if rising else (x1 - x2))


def test_an_inset_box_keeps_its_middle() -> None:
    """Margins are taken off on both sides."""
    assert Box(10, 10, 20, 8).inset(2, 1) == Box(12, 11, 16, 6)
    assert Box(10, 10, 20, 8).inset(2) == Box(12, 12, 16, 4)
