"""The typefaces of the paper: shipped with it, measured here, and honest about what they cannot print."""

from __future__ import annotations

import re
import unicodedata
from enum import StrEnum
from functools import cache, lru_cache
from importlib.resources import files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

POINTS_PER_MM = 72 / 25.4

# Height of a line and of a capital in parts of the type size, for all three faces.
LINE = 1.2
CAPITAL = 0.73

_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff]+(?: +[\u0590-\u08ff]+)*")
_LETTERS = re.compile(
    "[^\u0591-\u05c7\u0610-\u061a\u064b-\u065f][\u0591-\u05c7\u0610-\u061a\u064b-\u065f]*|."
)


class Face(StrEnum):
    """Text, loud text, and identifiers, whose zero and capital O cannot be mistaken."""

    PLAIN = "DejaVuSansCondensed"
    BOLD = "DejaVuSansCondensed-Bold"
    CODE = "DejaVuSansMono-Bold"


@lru_cache(maxsize=1 << 16)
def printable(text: str, face: Face) -> tuple[str, Face]:
    """
    Give what can be printed of a text, and the face to print it in.

    Spaces and control characters in a row become one space; no-break spaces stay. An identifier
    with letters that only the loud face has is printed in that. A character that no face has is
    printed as its code point in braces: ``{4EF6}`` is ugly, but two names stay two names, which a row
    of empty boxes would hide. Hebrew and Arabic words are turned round to read from the right; Arabic
    letters are printed unjoined.
    """
    plain = "".join(" " if unicodedata.category(c) == "Cc" else c for c in unicodedata.normalize("NFC", text))
    plain = " ".join(part for part in plain.split(" ") if part)
    if face is Face.CODE and any(ord(c) not in _widths(face) for c in plain):
        face = Face.BOLD
    widths = _widths(face)
    shown = _RIGHT_TO_LEFT.sub(_turned, plain)
    return "".join(c if ord(c) in widths else f"{{{ord(c):04X}}}" for c in shown), face


@lru_cache(maxsize=1 << 16)
def width_of(text: str, face: Face) -> float:
    """Give the width of a printable text in millimetres per point of type size."""
    widths = _widths(face)
    return sum(widths[ord(c)] for c in text) / 1000 / POINTS_PER_MM


def _turned(words: re.Match[str]) -> str:
    """Turn words round, letter by letter, each with the marks that belong to it."""
    return "".join(reversed(_LETTERS.findall(words.group())))


@cache
def font_of(face: Face) -> TTFont:
    """Give a face as the PDF writer knows it, loaded once."""
    font = TTFont(face.value, str(files("nesting.paper").joinpath(f"fonts/{face.value}.ttf")))
    pdfmetrics.registerFont(font)
    return font


@cache
def _widths(face: Face) -> dict[int, float]:
    measured = font_of(face).face
    return {code: measured.charWidths[code] for code in measured.charToGlyph if code in measured.charWidths}
