"""The typefaces of the paper: shipped with it, measured here, and honest about what they cannot print."""

from __future__ import annotations

import unicodedata
from enum import StrEnum
from functools import cache, lru_cache
from importlib.resources import files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from nesting.paper.right_to_left import joined

POINTS_PER_MM = 72 / 25.4

# Height of a line and of a capital in parts of the type size, for all three faces.
LINE = 1.2
CAPITAL = 0.73


class Face(StrEnum):
    """Text, loud text, and identifiers, whose zero and capital O cannot be mistaken."""

    PLAIN = "DejaVuSansCondensed"
    BOLD = "DejaVuSansCondensed-Bold"
    CODE = "DejaVuSansMono-Bold"


@lru_cache(maxsize=1 << 16)
def printable(text: str, face: Face) -> tuple[str, Face]:
    """
    Give what can be printed of a text, and the face to print it in.

    Spaces and control characters in a row become one space; no-break spaces stay, and what has no look of
    its own, such as a soft hyphen, goes. An identifier with letters that only the loud face has is printed
    in that. A character that no face has is printed as its code point in braces: ``{4EF6}`` is ugly, but
    two names stay two names, which a row of empty boxes would hide. Arabic letters are joined; which way a
    line reads is settled when it is printed, since a text is broken into lines from its beginning.
    """
    plain = "".join(_plain(c) for c in unicodedata.normalize("NFC", text))
    plain = joined(" ".join(part for part in plain.split(" ") if part))
    if face is Face.CODE and any(ord(c) not in _widths(face) for c in plain):
        face = Face.BOLD
    return "".join(_inked(c, _widths(face)) for c in plain), face


@lru_cache(maxsize=1 << 16)
def width_of(text: str, face: Face) -> float:
    """Give the width of a printable text in millimetres per point of type size."""
    widths = _widths(face)
    return sum(widths[ord(c)] for c in text) / 1000 / POINTS_PER_MM


def line_width(text: str, face: Face, size: float) -> float:
    """Give how many millimetres wide what can be printed of a text is on one line of so many points."""
    shown, face = printable(text, face)
    return width_of(shown, face) * size


def _plain(character: str) -> str:
    """Give a space for a control character, and nothing for one that only tells programs something."""
    category = unicodedata.category(character)
    return {"Cc": " ", "Cf": ""}.get(category, character)


def _inked(character: str, widths: dict[int, float]) -> str:
    """Give a character or, where the face lacks it, its code point; a joined letter's is the letter's own."""
    if ord(character) in widths:
        return character
    letters = unicodedata.normalize("NFKC", character) if "\ufb50" <= character <= "\ufefc" else character
    return "".join(f"{{{ord(letter):04X}}}" for letter in letters)


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
