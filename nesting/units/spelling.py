"""The many signs a spreadsheet brings, brought down to a few; unit names in cells and headings."""

from __future__ import annotations

import re
import unicodedata

from nesting.units.length import Unit

_NAMES = {
    Unit.MM: "mm millimetre millimetres millimeter millimeters",
    Unit.CM: "cm centimetre centimetres centimeter centimeters",
    Unit.M: "m metre metres meter meters",
    Unit.INCH: 'in inch inches "',
    Unit.FOOT: "ft foot feet '",
}
UNIT_NAMES = {name: unit for unit, names in _NAMES.items() for name in names.split()}

_SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_SUBSCRIPTS = "₀₁₂₃₄₅₆₇₈₉"
_SLASHES = "/⁄∕／"
_STACKED = re.compile(rf"([{_SUPERSCRIPTS}]+)[{_SLASHES}]([{_SUBSCRIPTS}]+|[0-9]+)")
_BRACKETED = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_PLAIN_DIGITS = str.maketrans(_SUPERSCRIPTS + _SUBSCRIPTS, "0123456789" * 2)
_ONE_SIGN = str.maketrans(
    {
        **dict.fromkeys("‐‑‒–—―−－\u00ad", "-"),
        **dict.fromkeys("′’‘‛´`ʹʼ＇", "'"),
        **dict.fromkeys("″”“‟˝ʺ＂", '"'),
        **dict.fromkeys("⁄∕／", "/"),
        # A zero-width sign parts two groups of digits as a space would; dropping it could join them.
        **dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff\u200e\u200f", " "),
        "⅟": " 1/",
        "㎜": "mm",
        "㎝": "cm",
        "，": ",",
        "．": ".",
    }
)


def plain_spelling(text: str) -> str:
    """
    Give a text in lower case with one sign each for space, hyphen, slash, foot and inch mark.

    Single-character and stacked fractions come out as `` 1/2``, set apart from the digits before
    them, so that ``36½`` cannot turn into ``361/2``.
    """
    text = _STACKED.sub(_unstacked, text)
    text = "".join(_spread(sign) for sign in text)
    return text.translate(_ONE_SIGN).replace("''", '"').strip().lower()


def read_unit(text: str) -> Unit | None:
    """
    Read the unit out of a column heading such as ``Length (mm)``, ``W, inches`` or ``L "``.

    A unit in brackets counts before one outside; outside, an abbreviation must stand last. None when
    there is no unit, or more than one.
    """
    plain = plain_spelling(text)
    named = [pair for inside in _BRACKETED.findall(plain) for pair in _units_among(inside)]
    if not named:
        tokens = _tokens(_BRACKETED.sub(" ", plain))
        named = _units_among(" ".join(tokens))
        if not any(len(name) > 3 or name == tokens[-1] for name, _ in named):
            return None
    units = {unit for _, unit in named}
    return units.pop() if len(units) == 1 else None


def _units_among(text: str) -> list[tuple[str, Unit]]:
    named = [(token, UNIT_NAMES[token]) for token in _tokens(text) if token in UNIT_NAMES]
    # "length in mm": an "in" before another unit is a preposition.
    return [pair for n, pair in enumerate(named, 1) if pair[0] != "in" or n == len(named)]


def _tokens(text: str) -> list[str]:
    text = text.strip()
    if text.endswith(("'", '"')) and text.count(text[-1]) == 1:
        text = f"{text[:-1]} {text[-1]}"
    return re.findall(r"[^\s,;:/_.|\-]+", text)


def _unstacked(match: re.Match[str]) -> str:
    over, under = (group.translate(_PLAIN_DIGITS) for group in match.groups())
    return f" {over}/{under}"


def _spread(sign: str) -> str:
    if unicodedata.category(sign) == "Zs":
        return " "
    if unicodedata.category(sign) == "No" and "⁄" in (parts := unicodedata.normalize("NFKC", sign)):
        return f" {parts}"
    return sign
