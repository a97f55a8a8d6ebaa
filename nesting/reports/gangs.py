"""Which bars share one block of a cut list, because every stop and every end of theirs is the same."""

from __future__ import annotations

from collections.abc import Container
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


def gangs(group: GroupPlan, most: int = MOST_BARS, unverified: Container[str] = ()) -> tuple[Gang, ...]:
    """
    Put consecutive new bars with the same cuts together, at most ``most``; an offcut stands alone.

    Bars are only put together when nothing that is set or watched at the saw differs: length, trim,
    stops, faces, what can be held, which sizes are verified, how far the shop is, and the tail.

    Parameters
    ----------
    unverified
        Ids of the pieces whose sizes are not verified yet.
    """

    def settings(bar: PlannedBar) -> tuple[object, ...]:
        cuts = tuple(
            (cut.stop, cut.face, cut.held, cut.slope_start, cut.slope_end, cut.piece in unverified)
            for cut in bar.cuts
        )
        # An offcut's tag is its source and used once, so it never equals its neighbour's.
        made = (bar.state, bar.true_tail, bar.spoiled, bar.defects, bar.zones)
        ends = (bar.head, bar.strokes, bar.tail, bar.fate, bar.sliver)
        return (bar.source, bar.offcut, bar.length, cuts, ends, made)

    found: list[Gang] = []
    for _, alike in groupby(group.bars, key=settings):
        bars = tuple(alike)
        found += [Gang(group, bars[i : i + most]) for i in range(0, len(bars), most)]
    return tuple(found)
