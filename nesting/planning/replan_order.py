"""The order in which the bars of a plan after a report are cut: what is done first, then as its goals ask."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from nesting.domain.goals import Goals
from nesting.domain.made import BarState
from nesting.domain.pieces import Piece
from nesting.domain.plan import PlannedBar
from nesting.planning.bar_order import order_within_work, unit_of
from nesting.planning.gangs import gangs
from nesting.planning.open_units import most_open
from nesting.planning.urgency import Ranks, rank_of

_FIRST = {BarState.DONE: 0, BarState.STOPPED: 0, BarState.FROZEN: 1, BarState.OPEN: 2}


def order_after_report(
    bars: Sequence[PlannedBar],
    pieces: Mapping[str, Piece],
    *,
    goals: Goals,
    ranks: Ranks,
    before: Sequence[int] = (),
) -> tuple[PlannedBar, ...]:
    """
    Order the bars of one material for few open units; they keep their numbers, which the shop knows them by.

    Cut bars come first, then frozen ones, both as they came before. Open bars follow, those of the most
    urgent pieces first; of one rank they change places, gangs together, while the units that the saw has
    begun already stand open. Without that goal the bars stay in the order in which they are given.

    Parameters
    ----------
    pieces
        Every piece of the plan by its id.
    before
        Numbers of the bars in the order of the plan before; new bars come behind them.
    """
    if not goals.open_units:
        return tuple(bars)
    place = {number: at for at, number in enumerate(before)}

    def rank(bar: PlannedBar) -> int:
        return min((rank_of(pieces[cut.piece], ranks) for cut in bar.cuts), default=0)

    def units(some: Sequence[PlannedBar]) -> set[str]:
        return {unit_of(pieces[cut.piece]) for bar in some for cut in bar.good_cuts}

    in_turn = sorted(bars, key=lambda bar: (_FIRST[bar.state], place.get(bar.number, len(place)), bar.number))
    fixed = [bar for bar in in_turn if bar.state is not BarState.OPEN]
    given = sorted(in_turn[len(fixed) :], key=rank)
    begun = units(fixed)
    moved: list[PlannedBar] = []
    for _, alike in groupby(given, key=rank):
        blocks = gangs(tuple(alike), goals.gang)
        found = order_within_work([units(block) for block in blocks], begun | units(moved))
        moved += [bar for i in found.order for bar in blocks[i]]
    ahead = begun & units(given)
    # A rank that got better is taken even where the most units are open in another one.
    least = min(moved, given, key=lambda order: most_open([ahead, *(units([bar]) for bar in order)]))
    return (*fixed, *least)
