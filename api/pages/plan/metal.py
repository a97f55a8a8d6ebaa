"""Where the metal of a plan goes: a table in metres and a picture to scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.plan import Plan, Totals
from nesting.reports.answer import share_text
from nesting.reports.tables import WASTE_WORDS, account_rows

# Tables of hundreds of materials belong in the workbook; a page stays light enough for a phone.
MOST_ROWS = 40

_METAL = ("used", "good", "kerf", "trim", "returned", "scrap")
_PICTURE = ("good", "kerf", "trim", "returned", "scrap")


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalRow:
    """Where the metal of one material goes: bars, lengths in metres in the order of the words, shares."""

    name: str
    bars: int
    metres: tuple[str, ...]
    yield_: str
    waste: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of all the metal used: where it begins and how wide it is in per cent, its share in words."""

    word: str
    x: str
    width: str
    share: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Metal:
    """The account of the metal: used = good + kerf + trim + returned + scrap; all together comes last."""

    words: tuple[tuple[str, str], ...]
    rows: tuple[MetalRow, ...]
    picture: tuple[Part, ...]
    waste: str
    yield_: str


def metal_view(plan: Plan) -> Metal:
    """Give where the metal goes, material by material and in all, and all of it as one picture."""
    totals = plan.totals
    rows = account_rows(plan)
    return Metal(
        words=WASTE_WORDS,
        rows=tuple(_metal_row(row.name, row.totals) for row in (*rows[:-1][:MOST_ROWS], *rows[-1:])),
        picture=tuple(_parts(totals)),
        waste=share_text(totals.waste_share),
        yield_=share_text(totals.yield_share),
    )


def _metal_row(name: str, totals: Totals) -> MetalRow:
    return MetalRow(
        name=name,
        bars=totals.bars,
        metres=tuple(metres(getattr(totals, word)) for word in _METAL),
        yield_=share_text(totals.yield_share),
        waste=share_text(totals.waste_share),
    )


def metres(nanometres: int) -> str:
    """Give a length in metres, to the centimetre."""
    return f"{nanometres / 1e9:.2f}"


def _parts(totals: Totals) -> Iterator[Part]:
    at = 0
    for word in _PICTURE if totals.used else ():
        held = getattr(totals, word)
        yield Part(
            word=word,
            x=f"{100 * at / totals.used:.3f}",
            width=f"{100 * held / totals.used:.3f}",
            share=share_text(held / totals.used),
        )
        at += held
