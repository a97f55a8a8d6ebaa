"""Which bars share one block of a cut list, because every stop and every end of theirs is the same."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass
from itertools import groupby

from nesting.domain.plan import GroupPlan, PlannedBar
from nesting.reports.whereabouts import numbers_words

# More bars beside one another leave no room for a piece's id and its place.
MOST_BARS = 4


@dataclass(frozen=True, slots=True)
class Gang:
    """
    Bars, at least one, that are cut alike; each keeps its own pieces and tail.

    Parameters
    ----------
    clamped
        All bars that are clamped and cut with one stroke, these among them; empty where each is cut alone.
    """

    group: GroupPlan
    bars: tuple[PlannedBar, ...]
    clamped: tuple[PlannedBar, ...] = ()

    @property
    def model(self) -> PlannedBar:
        """Give the bar whose stops hold for all."""
        return self.bars[0]

    @property
    def words(self) -> str:
        """Say how the bars are cut, for a block of several; empty for a bar that is cut alone."""
        if len(self.clamped) > len(self.bars):
            return f"clamp bars {numbers_words(tuple(bar.number for bar in self.clamped))}"
        if self.clamped:
            return f"clamp {len(self.clamped)} bars together"
        return f"cut {len(self.bars)} bars alike" if len(self.bars) > 1 else ""


def gangs(
    group: GroupPlan, most: int = MOST_BARS, unverified: Container[str] = (), *, clamp: int = 1
) -> tuple[Gang, ...]:
    """
    Put consecutive new bars with the same cuts together, at most ``most``; an offcut stands alone.

    No block straddles two clampings; a clamping that has no room in one block fills several of about
    one size.

    Bars are only put together when nothing that is set or watched at the saw differs: length, trim,
    stops, faces, what can be held, which sizes are verified, how far the shop is, and the tail.

    Parameters
    ----------
    unverified
        Ids of the pieces whose sizes are not verified yet.
    clamp
        Bars clamped and cut with one stroke; 1 where each is cut alone.
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
        for together in _parts(bars, clamp if clamp > 1 else len(bars)):
            clamped = together if 1 < len(together) <= clamp else ()
            size = -(-len(together) // -(-len(together) // most))
            found += [Gang(group, part, clamped) for part in _parts(together, size)]
    return tuple(found)


def _parts(bars: tuple[PlannedBar, ...], size: int) -> list[tuple[PlannedBar, ...]]:
    return [bars[i : i + size] for i in range(0, len(bars), size)]
