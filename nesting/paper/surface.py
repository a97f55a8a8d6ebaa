"""Printed pages in millimetres from the top left corner; the only module that knows the PDF writer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from pathlib import Path

from reportlab import rl_config
from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfgen.canvas import Canvas

from nesting.paper.faces import CAPITAL, LINE, POINTS_PER_MM, Face, font_of, width_of
from nesting.paper.fitting import fit
from nesting.paper.hatching import Box, Stroke
from nesting.paper.page_size import PageSize
from nesting.paper.right_to_left import turned

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

    Marks are written as the page's own operators (ISO 32000-1, 8.4 to 9.4): the PDF writer's calls for them
    took twice as long as everything else together.

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
        self.page = page
        size = (page.width * POINTS_PER_MM, page.height * POINTS_PER_MM)
        self._canvas = Canvas(str(path), pagesize=size, invariant=1, pageCompression=1)
        self._canvas.setTitle(title)
        self._marks: list[str] = []
        self._fonts = {face: font_of(face) for face in Face}
        self._letters: dict[tuple[str, Face], tuple[tuple[str, str], ...]] = {}

    def next_page(self) -> None:
        """Finish this page."""
        self._canvas.addLiteral("\n".join(self._marks))
        self._marks.clear()
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
        for number, line in enumerate(fitted.lines):
            x, y = box.x, middle + number * pitch + drop
            if align is not Align.LEFT:
                spare = box.width - width_of(line, fitted.face) * fitted.size
                x += spare if align is Align.RIGHT else spare / 2
            shown = " ".join(
                f"{font} {fitted.size:.2f} Tf ({letters}) Tj"
                for font, letters in self._lettered(line, fitted.face)
            )
            self._marks.append(f"BT {int(white)} g {x * POINTS_PER_MM:.2f} {self._up(y):.2f} Td {shown} ET")

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
        shade = "" if fill is None else f"{fill:.3g} g "
        ends = {(True, True): "B", (True, False): "S", (False, True): "f", (False, False): "n"}
        self._marks.append(
            f"{shade}{stroke:.2f} w {box.x * POINTS_PER_MM:.2f} {self._up(box.bottom):.2f} "
            f"{box.width * POINTS_PER_MM:.2f} {box.height * POINTS_PER_MM:.2f} re "
            + ends[stroke > 0, fill is not None]
        )

    def strokes(self, strokes: Iterable[Stroke], *, width: float = 0.6) -> None:
        """Draw lines ``(x1, y1, x2, y2)`` as one path, ``width`` points wide."""
        path = " ".join(
            f"{x1 * POINTS_PER_MM:.2f} {self._up(y1):.2f} m {x2 * POINTS_PER_MM:.2f} {self._up(y2):.2f} l"
            for x1, y1, x2, y2 in strokes
        )
        if path:
            self._marks.append(f"{width:.2f} w {path} S")

    def modules(self, box: Box, rows: Sequence[bytes]) -> None:
        """
        Draw the dark modules of a square code as one path, a rectangle for those side by side.

        Drawn, not a picture of it: some viewers blur small pictures when they enlarge them.

        Parameters
        ----------
        rows
            1 for dark, shape ``(n, n)``.
        """
        path = []
        for down, row in enumerate(rows):
            start = row.find(1)
            while start >= 0:
                end = row.find(0, start)
                end = len(row) if end < 0 else end
                path.append(f"{start} {down} {end - start} 1 re")
                start = row.find(1, end)
        # One module is the unit, and rows count downwards.
        side = min(box.width, box.height) / len(rows) * POINTS_PER_MM
        place = f"{side:.4f} 0 0 {-side:.4f} {box.x * POINTS_PER_MM:.2f} {self._up(box.y):.2f} cm"
        self._marks.append(f"q 0 g {place} {' '.join(path)} f Q")

    def _lettered(self, line: str, face: Face) -> tuple[tuple[str, str], ...]:
        """Give a line as (font, letters) in the fonts of at most 256 letters that the file holds."""
        key = line, face
        if key not in self._letters:
            font, document = self._fonts[face], self._canvas._doc  # noqa: SLF001
            self._letters[key] = tuple(
                (font.getSubsetInternalName(subset, document), escapePDF(letters))
                for subset, letters in font.splitString(turned(line), document)
            )
        return self._letters[key]

    def _up(self, y: float) -> float:
        """Give the PDF's own height, which counts from the bottom, in points."""
        return (self.page.height - y) * POINTS_PER_MM
