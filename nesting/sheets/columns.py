"""
The columns of the input workbook: their own headings, and the other headings people use for them.

A heading is matched by meaning: case, punctuation, brackets and a unit in it do not count. A *weak*
heading ("No.", "Type", "Size") is taken only where no other column claims the same field.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_catalogue import FAMILIES, OFFCUTS, SAW, SAW_LENGTHS, SAW_TEXTS
from nesting.sheets.columns_currency import currencies_in, without_currency
from nesting.sheets.columns_goals import GOAL_TEXTS
from nesting.sheets.columns_pieces import PIECES
from nesting.sheets.columns_runs import RUNS
from nesting.sheets.columns_stock import BUYING_TEXTS, STOCK

__all__ = [
    "BUYING_TEXTS",
    "CANONICAL",
    "FAMILIES",
    "GOAL_TEXTS",
    "OFFCUTS",
    "PIECES",
    "PLANS",
    "RUNS",
    "SAW",
    "SAW_LENGTHS",
    "SAW_TEXTS",
    "STOCK",
    "Column",
    "SheetKind",
    "SheetPlan",
    "is_per_length",
    "match_heading",
    "plain_words",
    "plan_for_tab",
]

PLANS = (RUNS, PIECES, FAMILIES, STOCK, OFFCUTS, SAW)
CANONICAL: dict[str, tuple[str, ...]] = {
    plan.kind.value: tuple(column.heading for column in plan.columns) for plan in PLANS
}

_UNIT_WORDS = frozenset(
    (
        *("mm", "cm", "m", "in", "inch", "inches", "ins", "ft", "feet", "foot"),
        *("millimetre", "millimetres", "millimeter", "millimeters", "metre", "metres", "meter", "meters"),
        *("centimetre", "centimetres", "centimeter", "centimeters"),
    )
)
_FILLERS = frozenset(["the", "a", "of", "per", "reqd", "required", "req", "total", "each"])
_BESIDE_A_PRICE = frozenset(("bar", "pc", "pcs", "piece", "ea", "net", "excl", "ex", "vat", "tax", "in"))
_BRACKETS = re.compile(r"[(\[{][^)\]}]*[)\]}]")


@lru_cache(maxsize=4096)  # every cell of a list is asked whether it is a heading
def plain_words(text: str) -> str:
    """Give a heading in lower case with single spaces and no punctuation: ``"Qty. (No)"`` -> ``qty no``."""
    folded = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(re.sub(r"[^\w]+|_", " ", folded).split())


def _by_spelling(plan: SheetPlan) -> dict[str, tuple[Column, bool]]:
    known: dict[str, tuple[Column, bool]] = {}
    for firm in (True, False):
        for column in plan.columns:
            names = (plain_words(column.heading), *column.accepts) if firm else column.weak
            for name in names:
                known.setdefault(name, (column, firm))
    return known


_BY_SPELLING = {plan.kind: _by_spelling(plan) for plan in PLANS}


_LETTER_OF_A_TYPE = re.compile(r"(?:type|unit|apt|apartment|flat|plan|stack) [a-z][0-9]?(?<! m)")


@lru_cache(maxsize=4096)
def _spellings(heading: str) -> tuple[str, ...]:
    """Give the wordings to try, the whole first, then without brackets, units and fillers."""
    outside = plain_words(_BRACKETS.sub(" ", heading))
    if _LETTER_OF_A_TYPE.fullmatch(plain_words(heading)) and plain_words(heading) != outside:
        return (plain_words(heading),)  # without its letter "Type (A)" would name the channel's type
    tries = [plain_words(heading), outside]
    for text in (plain_words(heading), outside):
        words = text.split()
        while words and words[-1] in _UNIT_WORDS:
            words.pop()
        # The last word of "Type A" names a type; everywhere else an "a" is an article.
        label = words[-1:] if words[-1:] == ["a"] else []
        said = [word for word in words if word not in _FILLERS]
        tries += [" ".join(words), " ".join(said + label)]
    return tuple(text for text in dict.fromkeys(tries) if text)


def match_heading(plan: SheetPlan, heading: str) -> tuple[Column, bool] | None:
    """
    Find the column a heading means in one kind of sheet.

    Returns
    -------
    tuple or None
        The column and whether the match is firm; None when the heading is not ours.
    """
    known = _BY_SPELLING[plan.kind]
    for spelling in _spellings(heading):
        if spelling in known:
            return None if known[spelling][0].money and is_per_length(heading) else known[spelling]
    if priced := _priced(plan, heading):
        return priced
    parts = [part for part in re.split(r"[/,&]| or ", heading) if plain_words(part)]
    if len(parts) > 1:
        met = [match_heading(plan, part) for part in parts]
        first = met[0]
        if first is not None and all(found and found[0] is first[0] for found in met):
            return first[0], any(found and found[1] for found in met)
    return None


def is_per_length(heading: str) -> bool:
    """Tell whether a heading is for each metre or foot: such a price is not that of a bar."""
    words = plain_words(without_currency(heading)).split()
    before = ["", *words]
    # "Price in EUR": an "in" is inches only behind "per".
    return any(
        word in _UNIT_WORDS and (word != "in" or last == "per")
        for last, word in zip(before, words, strict=False)
    )


def _priced(plan: SheetPlan, heading: str) -> tuple[Column, bool] | None:
    """Find the amount a heading means with its currency: ``Price EUR``, ``Net price, EUR``, ``EUR/bar``."""
    prices = [column for column in plan.columns if column.money]
    if not prices or is_per_length(heading):
        return None
    words = plain_words(without_currency(heading))
    rest = " ".join(word for word in words.split() if word not in _FILLERS | _BESIDE_A_PRICE)
    known = _BY_SPELLING[plan.kind]
    met = next((known[spelling] for spelling in (words, rest) if spelling in known), None)
    if met is not None and met[0].money:
        return met
    return (prices[0], True) if currencies_in(heading) and not rest else None


def plan_for_tab(name: str) -> SheetPlan | None:
    """Find the kind of sheet a tab's name means; None when the name does not say."""
    plain = plain_words(name)
    return next((plan for plan in PLANS if plain == plan.kind.value.lower() or plain in plan.tabs), None)
