"""Patterns in place of colours, as plain strokes inside a rectangle."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in millimetres from the top left corner of the page, ``y`` downwards."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Lower edge."""
        return self.y + self.height

    def inset(self, across: float, down: float | None = None) -> Box:
        """Give the box inside a margin of ``across`` at the sides and ``down`` at top and bottom."""
        down = across if down is None else down
        return Box(self.x + across, self.y + down, self.width - 2 * across, self.height - 2 * down)


Stroke = tuple[float, float, float, float]


def slanted(box: Box, pitch: float, *, rising: bool) -> Iterator[Stroke]:
    """
    Give strokes at 45 degrees that fill a box, ``(x1, y1, x2, y2)`` each.

    Parameters
    ----------
    pitch
        Distance between strokes along the box's edge, millimetres.
    rising
        Upwards to the right instead of downwards.
    """
    offset = pitch / 2
    while offset < box.width + box.height:
        # A falling stroke runs from (offset - height, 0) to (offset, height) of the box.
        start, end = max(offset - box.height, 0.0), min(offset, box.width)
        top, low = start - (offset - box.height), end - (offset - box.height)
        if rising:
            top, low = box.height - top, box.height - low
        yield box.x + start, box.y + top, box.x + end, box.y + low
        offset += pitch
