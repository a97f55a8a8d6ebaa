"""Hebrew and Arabic words: letters joined to their neighbours, and turned round to read from the right."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

_MARKS = "\u0591-\u05c7\u0610-\u061a\u064b-\u065f\u0670"
_LETTERS = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
_WORDS = re.compile(f"[{_LETTERS}]+(?: +[{_LETTERS}]+)*")
_LETTER_WITH_MARKS = re.compile(f"[^{_MARKS}][{_MARKS}]*|.")
_MARK = re.compile(f"[{_MARKS}]")
# The blocks of the Unicode Standard that hold the forms Arabic letters take beside one another.
_FORM_BLOCKS = (range(0xFB50, 0xFBC2), range(0xFE70, 0xFEFD))
_TATWEEL = "\u0640"


def joined(text: str) -> str:
    """
    Give a text with its Arabic letters in the forms they take beside their neighbours.

    Cursive joining after chapter 9.2 of the Unicode Standard, by the forms encoded for it; lam and alef
    become one letter. Marks between letters do not part them. A text joined once stays as it is.
    """
    if not _WORDS.search(text):
        return text
    forms, pairs = _forms()
    letters = list(re.sub("\u0644[\u0622\u0623\u0625\u0627]", lambda pair: pairs[pair.group()], text))
    places = [at for at, letter in enumerate(letters) if not _MARK.match(letter)]
    shown = list(letters)
    for number, at in enumerate(places):
        before = letters[places[number - 1]] if number else ""
        behind = letters[places[number + 1]] if number + 1 < len(places) else ""
        own = forms.get(letters[at], {})
        from_before = _reaches_on(before, forms) and "final" in own
        on_to_next = "initial" in own and _is_reached(behind, forms)
        form = {(True, True): "medial", (True, False): "final", (False, True): "initial"}.get(
            (from_before, on_to_next), ""
        )
        shown[at] = own.get(form, letters[at])
    return "".join(shown)


def turned(line: str) -> str:
    """
    Give one line as it is printed from the left, its Hebrew and Arabic words turned to read from the right.

    For lines, not for texts: a text turned before it is broken into lines would begin on its last one.
    """
    return _WORDS.sub(
        lambda words: "".join(reversed(_LETTER_WITH_MARKS.findall(words.group()))),
        line,
    )


def _reaches_on(letter: str, forms: dict[str, dict[str, str]]) -> bool:
    return letter == _TATWEEL or "initial" in forms.get(letter, {})


def _is_reached(letter: str, forms: dict[str, dict[str, str]]) -> bool:
    return letter == _TATWEEL or "final" in forms.get(letter, {})


@cache
def _forms() -> tuple[dict[str, dict[str, str]], dict[str, str]]:
    """Give each letter's forms by name, and each pair of lam and alef as one letter."""
    forms: dict[str, dict[str, str]] = {}
    pairs: dict[str, str] = {}
    finals: dict[str, str] = {}
    for code in (code for block in _FORM_BLOCKS for code in block):
        kind, *parts = unicodedata.decomposition(chr(code)).split() or ("",)
        letters = "".join(chr(int(part, 16)) for part in parts)
        if len(letters) == 1:
            forms.setdefault(letters, {})[kind.strip("<>")] = chr(code)
        elif letters and kind == "<isolated>":
            pairs[letters] = chr(code)
        elif letters and kind == "<final>":
            finals[letters] = chr(code)
    for letters, pair in pairs.items():
        if letters in finals:
            forms[pair] = {"final": finals[letters]}
    return forms, pairs
