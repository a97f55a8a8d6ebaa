"""A surface that remembers what it printed and where the ink is."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from nesting.paper.faces import POINTS_PER_MM, Face, width_of
from nesting.paper.fitting import Fitted, fit
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.surface import Align, Surface

# Above and below the base line, in parts of the type size; accents on capitals reach no higher than this.
_ABOVE, _BELOW = 0.76, 0.24
_CAPITAL, _LINE = 0.73, 1.2


@dataclass(frozen=True, slots=True)
class Printed:
    """One text as it was asked for and as it came out."""

    page: int
    box: Box
    text: str
    fitted: Fitted
    white: bool
    ink: tuple[Box, ...]


class Recorder(Surface):
    """Prints like any surface, and remembers."""

    made: list[Recorder]

    def __init__(self, path: Path, page: PageSize, title: str) -> None:
        super().__init__(path, page, title)
        self.pages = 0
        self.printed: list[Printed] = []
        self.framed: list[tuple[int, Box, float | None]] = []
        self.codes: list[tuple[int, Box]] = []
        Recorder.made.append(self)

    def next_page(self) -> None:
        super().next_page()
        self.pages += 1

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
        super().text(box, text, size=size, face=face, align=align, lines=lines, white=white)
        fitted = fit(text, face, size, round(box.width, 3), round(box.height, 3), lines=lines)
        em = fitted.size / POINTS_PER_MM
        middle = box.y + box.height / 2 - (len(fitted.lines) - 1) * em * _LINE / 2
        ink = []
        for number, line in enumerate(fitted.lines):
            width = width_of(line, fitted.face) * fitted.size
            spare = box.width - width
            x = box.x + {Align.LEFT: 0.0, Align.CENTRE: spare / 2, Align.RIGHT: spare}[align]
            base = middle + number * em * _LINE + em * _CAPITAL / 2
            ink.append(Box(x, base - _ABOVE * em, width, (_ABOVE + _BELOW) * em))
        self.printed.append(Printed(self.pages, box, text, fitted, white, tuple(ink)))

    def frame(self, box: Box, *, stroke: float = 0.6, fill: float | None = None) -> None:
        super().frame(box, stroke=stroke, fill=fill)
        self.framed.append((self.pages, box, fill))

    def modules(self, box: Box, rows: tuple[bytes, ...]) -> None:  # type: ignore[override]
        super().modules(box, rows)
        self.codes.append((self.pages, box))

    @property
    def texts(self) -> list[str]:
        """Give every text as it was asked for, no-break spaces as spaces."""
        return [printed.text.replace("\N{NO-BREAK SPACE}", " ") for printed in self.printed]


@pytest.fixture
def recorders(monkeypatch: pytest.MonkeyPatch) -> list[Recorder]:
    """Make every document print on a recorder; gives them in the order in which they are opened."""
    made: list[Recorder] = []
    monkeypatch.setattr(Recorder, "made", made, raising=False)
    monkeypatch.setattr("nesting.paper.flow.Surface", Recorder)
    monkeypatch.setattr("nesting.paper.label.Surface", Recorder)
    return made


def overlap(one: Box, other: Box, *, by: float = 0.05) -> bool:
    """Whether two boxes share more than ``by`` millimetres both ways."""
    across = min(one.right, other.right) - max(one.x, other.x)
    down = min(one.bottom, other.bottom) - max(one.y, other.y)
    return across > by and down > by
