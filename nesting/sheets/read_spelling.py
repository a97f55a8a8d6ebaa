"""Names brought to the catalogue's own spelling, so that ``tolv 17n`` groups with ``TOLV-17N``."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from nesting.domain.material import Family
from nesting.domain.runs import PieceLine, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import Where
from nesting.sheets.findings import Findings, listed

Named = TypeVar("Named", Run, PieceLine, StockLine, Offcut)


@dataclass(frozen=True, slots=True)
class Spelling:
    """
    The spelling that counts, by what a reader of the list would take for the same name.

    Parameters
    ----------
    exact
        Names that count as they stand, even where two of them sound alike.
    families
        Own spelling of each family.
    finishes
        Own spelling of each finish, with the family it belongs to.
    """

    exact: frozenset[str]
    families: dict[str, str]
    finishes: dict[tuple[str, str], str]

    def family(self, name: str) -> str:
        """Give the catalogue's spelling of a family, or the name itself when it has none."""
        return name if name in self.exact else self.families.get(sound(name), name)

    def finish(self, family: str, name: str) -> str:
        """Give the stock's spelling of a finish of a family, or the name itself."""
        return self.finishes.get((family, sound(name)), name)

    def near(self, name: str) -> str:
        """Give a hint at families spelled nearly so; empty when there is none."""
        others = [key for key in self.families if self.families[key] != name]
        near = difflib.get_close_matches(sound(name), others, n=2, cutoff=0.75)
        return f" Did you mean {' or '.join(self.families[key] for key in near)}?" if near else ""


def sound(name: str) -> str:
    """Give a name without case, spaces and punctuation."""
    return re.sub(r"[\W_]+", "", name).casefold()


def spelling_of(
    families: Sequence[Family], stock: Sequence[StockLine], offcuts: Sequence[Offcut]
) -> Spelling:
    """Learn the spelling from the families first, then the stock, then the rack."""
    exact = {family.name for family in families}
    own: dict[str, str] = {}
    finishes: dict[tuple[str, str], str] = {}
    for family in families:
        own.setdefault(sound(family.name), family.name)
    named: list[StockLine | Offcut] = [*stock, *offcuts]
    for line in named:
        name = line.family if line.family in exact else own.setdefault(sound(line.family), line.family)
        finishes.setdefault((name, sound(line.finish)), line.finish)
    return Spelling(frozenset(exact), own, finishes)


def respelled(lines: Sequence[Named], spelling: Spelling, findings: Findings) -> list[Named]:
    """Give the lines with family and finish spelled alike, and one note for each spelling changed."""
    changed: dict[tuple[str, str], list[Where]] = {}
    out = list(_respelled(lines, spelling, changed))
    for (said, own), places in changed.items():
        findings.note(
            "spelling",
            places[0],
            said,
            f"Read as {own!r}. Rows: {len(places)} ({listed([str(p) for p in places])}).",
        )
    return out


def _respelled(
    lines: Sequence[Named], spelling: Spelling, changed: dict[tuple[str, str], list[Where]]
) -> Iterator[Named]:
    for line in lines:
        family = spelling.family(line.family)
        finish = spelling.finish(family, line.finish)
        for said, own in ((line.family, family), (line.finish, finish)):
            if said != own:
                changed.setdefault((said, own), []).append(line.where)
        yield (
            line
            if (family, finish) == (line.family, line.finish)
            else replace(line, family=family, finish=finish)
        )
