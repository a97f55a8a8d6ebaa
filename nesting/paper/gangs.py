"""Which bars share one block of the cut sheet, because every stop and every end of theirs is the same."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from nesting.domain.plan import GroupPlan, PlannedBar

# More bars beside one another leave no room for a piece's id and its place.
MOST_BARS = 4


@dataclass(frozen=True, slots=True)
class Gang:
    """Bars, at least one, that are cut alike; each keeps its own pieces and tail."""

    group: GroupPlan
    bars: tuple[PlannedBar, ...]

    @property
    def model(self) -> PlannedBar:
        """Give the bar whose stops hold for all."""
        return self.bars[0]


def gangs(group: GroupPlan, most: int = MOST_BARS) -> tuple[Gang, ...]:
    """
    Put consecutive new bars with the same cuts together, at most ``most``; an offcut stands alone.

    Bars are only put together when nothing that is set or watched at the saw differs: length, trim,
    stops, faces, what can be held, and the tail.
    """
    found: list[Gang] = []
    for _, alike in groupby(group.bars, key=_settings):
        bars = tuple(alike)
        found += [Gang(group, bars[i : i + most]) for i in range(0, len(bars), most)]
    return tuple(found)


def _settings(bar: PlannedBar) -> tuple[object, ...]:
    cuts = tuple((cut.length, cut.face, cut.held) for cut in bar.cuts)
    # An offcut's tag is its source and used once, so it never equals its neighbour's.
    return (bar.source, bar.offcut, bar.length, bar.head, cuts, bar.strokes, bar.tail, bar.fate, bar.sliver)
