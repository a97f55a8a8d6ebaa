"""Printed pages in millimetres from the top left corner; the only module that knows the PDF writer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from pathlib import Path

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from nesting.paper.faces import CAPITAL, LINE, POINTS_PER_MM, Face, load_faces, width_of
from nesting.paper.fitting import fit
from nesting.paper.hatching import Box, Stroke
from nesting.paper.page_size import PageSize

# Pages as plain compressed bytes: writing them once more in letters took a fifth of the time.
rl_config.useA85 = 0


class Align(StrEnum):
    """Where a text stands in its box."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


class Surface:
    """
    A PDF being printed; the same calls give the same bytes.

    Parameters
    ----------
    path
        File to write.
    page
        Size of every page.
    title
        Title of the document.
    """

    def __init__(self, path: Path, page: PageSize, title: str) -> None:
        load_faces()
        self.page = page
        size = (page.width * POINTS_PER_MM, page.height * POINTS_PER_MM)
        self._canvas = Canvas(str(path), pagesize=size, invariant=1, pageCompression=1)
        self._canvas.setTitle(title)

    def next_page(self) -> None:
        """Finish this page."""
        self._canvas.showPage()

    def save(self) -> None:
        """Write the file."""
        self._canvas.save()

    def text(
        self,
        box: Box,
        text: str,
        *,
        size: float,
        face: Face = Face.PLAIN,
        align: Align = Align.LEFT,
        lines: int = 1,
        white: bool = False,
    ) -> None:
        """
        Print a text in the middle of a box's height; it shrinks or wraps rather than leave the box.

        Parameters
        ----------
        size
            Type size in points when there is room enough.
        lines
            Most lines to use.
        """
        fitted = fit(text, face, size, round(box.width, 3), round(box.height, 3), lines=lines)
        pitch = fitted.size * LINE / POINTS_PER_MM
        middle = box.y + box.height / 2 - (len(fitted.lines) - 1) * pitch / 2
        drop = fitted.size * CAPITAL / 2 / POINTS_PER_MM
        canvas = self._canvas
        canvas.setFont(fitted.face.value, fitted.size)
        canvas.setFillGray(1.0 if white else 0.0)
        for number, line in enumerate(fitted.lines):
            x, y = box.x, middle + number * pitch + drop
            if align is not Align.LEFT:
                spare = box.width - width_of(line, fitted.face) * fitted.size
                x += spare if align is Align.RIGHT else spare / 2
            canvas.drawString(x * POINTS_PER_MM, self._up(y), line)

    def frame(self, box: Box, *, stroke: float = 0.6, fill: float | None = None) -> None:
        """
        Draw a rectangle.

        Parameters
        ----------
        stroke
            Line width in points; 0 for none.
        fill
            Grey from 0 (black) to 1 (white); None leaves the paper.
        """
        canvas = self._canvas
        canvas.setLineWidth(stroke)
        if fill is not None:
            canvas.setFillGray(fill)
        canvas.rect(
            box.x * POINTS_PER_MM,
            self._up(box.bottom),
            box.width * POINTS_PER_MM,
            box.height * POINTS_PER_MM,
            stroke=int(stroke > 0),
            fill=int(fill is not None),
        )

    def strokes(self, strokes: Iterable[Stroke], *, width: float = 0.6) -> None:
        """Draw lines ``(x1, y1, x2, y2)`` as one path, ``width`` points wide."""
        path = self._canvas.beginPath()
        for x1, y1, x2, y2 in strokes:
            path.moveTo(x1 * POINTS_PER_MM, self._up(y1))
            path.lineTo(x2 * POINTS_PER_MM, self._up(y2))
        self._canvas.setLineWidth(width)
        self._canvas.drawPath(path)

    def modules(self, box: Box, rows: Sequence[bytes]) -> None:
        """
        Draw the dark modules of a square code as one path, which is what keeps many labels fast.

        Parameters
        ----------
        rows
            1 for dark, shape ``(n, n)``.
        """
        side = min(box.width, box.height) / len(rows) * POINTS_PER_MM
        left, top = box.x * POINTS_PER_MM, self._up(box.y)
        path = self._canvas.beginPath()
        for down, row in enumerate(rows):
            start = row.find(1)
            while start >= 0:
                end = row.find(0, start)
                end = len(row) if end < 0 else end
                path.rect(left + start * side, top - (down + 1) * side, (end - start) * side, side)
                start = row.find(1, end)
        self._canvas.setFillGray(0.0)
        self._canvas.drawPath(path, stroke=0, fill=1)

    def _up(self, y: float) -> float:
        """Give the PDF's own height, which counts from the bottom, in points."""
        return (self.page.height - y) * POINTS_PER_MM
