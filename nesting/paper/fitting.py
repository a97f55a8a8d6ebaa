"""Text that stays inside its box: smaller first, then on more lines, in the last resort cut in the middle."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from nesting.paper.faces import LINE, POINTS_PER_MM, Face, printable, width_of

# One line is better than several as long as its type is not smaller than theirs by more than this.
_SQUEEZE = 0.88
_STEP = 0.94
# A point, comma or stroke between two digits is part of a number: half of 2438.4 or of 1/64 is a wrong one.
_INSIDE = r"(?:[^ /.,;:_\-]|(?<=[0-9])[.,/](?=[0-9]))"
_TOKENS = re.compile(rf" +|{_INSIDE}*+[/.,;:_\-]+|{_INSIDE}++")
_ELLIPSIS = "…"
_NO_BREAK = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class Fitted:
    """Lines to print, their face and their type size in points."""

    lines: tuple[str, ...]
    face: Face
    size: float

    @property
    def width(self) -> float:
        """Width of the widest line in millimetres."""
        return max((width_of(line, self.face) for line in self.lines), default=0.0) * self.size

    @property
    def height(self) -> float:
        """Height of all lines in millimetres."""
        return len(self.lines) * self.size * LINE / POINTS_PER_MM


@lru_cache(maxsize=1 << 15)
def fit(
    text: str, face: Face, size: float, width: float, height: float, *, lines: int = 1, least: float = 4.5
) -> Fitted:
    """
    Fit a text into a box, never wider and never higher than the box.

    Parameters
    ----------
    size
        Type size in points when there is room enough.
    width, height
        The box in millimetres.
    lines
        Most lines to use.
    least
        Smallest size that is still read; below it the middle of the text gives way to an ellipsis.
    """
    shown, face = printable(text, face)
    if not width_of(shown, face):
        return Fitted((), face, size)
    most = min(size, height * POINTS_PER_MM / LINE)
    least = min(least, most)
    single = min(most, width / width_of(shown, face))
    tried = most
    while lines > 1 and single < tried * _SQUEEZE and tried >= least:
        room = min(lines, int(height * POINTS_PER_MM / (LINE * tried) + 1e-9))
        wrapped = Fitted(wrap(shown, face, tried, width), face, tried)
        # A single letter may be wider than a narrow box.
        whole = tried <= least or not _breaks_a_length(shown, face, tried, width)
        if whole and len(wrapped.lines) <= room and wrapped.width <= width:
            return wrapped
        tried = tried * _STEP if tried * _STEP > least or tried == least else least
    if single >= least:
        return Fitted((shown,), face, single)
    return _shortened(shown, face, least, width, height, lines)


def wrap(text: str, face: Face, size: float, width: float) -> tuple[str, ...]:
    """
    Break a printable text into lines no wider than ``width`` millimetres.

    Lines break at spaces and behind hyphens, slashes and stops, not inside numbers; a longer word breaks
    anywhere.
    """
    most = width / size
    lines: list[str] = []
    line = ""
    for token in _TOKENS.findall(text):
        if width_of((line + token).rstrip(" "), face) <= most:
            line += token
            continue
        if line.strip(" "):
            lines.append(line.strip(" "))
        line = token.lstrip(" ")
        while width_of(line, face) > most and len(line) > 1:
            taken = _longest(line, face, most)
            lines.append(line[:taken])
            line = line[taken:]
    if line.strip(" "):
        lines.append(line.strip(" "))
    return tuple(lines)


def _breaks_a_length(text: str, face: Face, size: float, width: float) -> bool:
    """Tell whether a length with its unit is wider than a line: of 1819.275 mm, 1819.275 m is another one."""
    return any(_NO_BREAK in token and width_of(token, face) * size > width for token in _TOKENS.findall(text))


def _longest(text: str, face: Face, most: float) -> int:
    """Give how many leading characters fit, at least one."""
    count = 1
    while count < len(text) and width_of(text[: count + 1], face) <= most:
        count += 1
    return count


def _shortened(text: str, face: Face, size: float, width: float, height: float, lines: int) -> Fitted:
    """Keep as much of both ends as fits: names that differ mostly differ at an end."""
    room = max(1, min(lines, int(height * POINTS_PER_MM / (LINE * size) + 1e-9)))
    low, high = 0, len(text) - 1
    best = Fitted((_ELLIPSIS,), face, min(size, width / width_of(_ELLIPSIS, face)))
    while low <= high:
        kept = (low + high) // 2
        back = kept // 2
        cut = text[: kept - back] + _ELLIPSIS + text[len(text) - back :]
        wrapped = wrap(cut, face, size, width)
        fitted = Fitted(wrapped, face, size)
        if len(wrapped) <= room and fitted.width <= width:
            best, low = fitted, kept + 1
        else:
            high = kept - 1
    return best
