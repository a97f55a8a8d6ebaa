"""How often the stop is moved, and an order of each bar's cuts that moves it less often."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from nesting.domain.goals import GoalPrice
from nesting.domain.plan import PlannedBar
from nesting.domain.rules import SawRules
from nesting.planning.assemble import sawn_bar
from nesting.planning.group import Group
from nesting.planning.sequence import cut_order, held_cuts
from nesting.units import Length

Bars = tuple[PlannedBar, ...]


@dataclass(frozen=True, slots=True)
class StopOrder:
    """
    The cuts of each bar in the order in which to saw them.

    Parameters
    ----------
    cuts
        For each bar, indices into its cuts.
    changes
        Times the stop is moved after it was first set.
    """

    cuts: tuple[tuple[int, ...], ...]
    changes: int


def stop_changes(bars: Sequence[Sequence[Length]]) -> int:
    """
    Count how often the stop is moved after it was first set.

    Parameters
    ----------
    bars
        Stop lengths of each bar in saw order.
    """
    return sum(a != b for a, b in pairwise(stop for bar in bars for stop in bar))


def order_for_stops(bars: Sequence[PlannedBar], saw: SawRules) -> StopOrder:
    """
    Order the cuts of each bar so that the stop is moved less often, never more often than as given.

    The grip rule comes first: no bar gets an order with more cuts that cannot be held than its own
    safe order has. Then equal stops come together, in a bar and from one bar to the next; then the
    longest first. A bar begins with the stop as it stands where it can, and ends with one that the next
    bar can begin with (one step ahead, not proved least).

    Parameters
    ----------
    bars
        They stay in their order, which other goals have settled.
    """
    ways = [_ways(bar, saw) for bar in bars]
    starts = [{first for first, _ in way} for way in ways]
    cuts: list[tuple[int, ...]] = []
    stop: Length | None = None
    for way, following in zip(ways, [*starts[1:], set()], strict=True):
        ends = [pair for pair in way if pair[0] == stop] or list(way)
        pair = next((pair for pair in ends if pair[1] in following), ends[0])
        cuts.append(way[pair])
        stop = pair[1] if way[pair] else stop
    changes = stop_changes([[bar.cuts[c].length for c in one] for bar, one in zip(bars, cuts, strict=True)])
    given = stop_changes([[cut.length for cut in bar.cuts] for bar in bars])
    if changes < given:
        return StopOrder(tuple(cuts), changes)
    return StopOrder(tuple(tuple(range(len(bar.cuts))) for bar in bars), given)


def with_stop_order(bars: Sequence[PlannedBar], group: Group, *, cost: int) -> tuple[Bars, GoalPrice]:
    """
    Give the bars in their order, the cuts of each arranged so that the stop moves less often.

    Returns
    -------
    The bars, and how often the stop is moved before and after.
    """
    found = order_for_stops(bars, group.saw)
    pieces = {piece.id: piece for piece in group.pieces}
    kinds = {kind.key: kind for kind in group.problem.bars}
    made = []
    for bar, cuts in zip(bars, found.cuts, strict=True):
        in_order = [pieces[bar.cuts[c].piece] for c in cuts]
        lengths = [piece.length for piece in in_order]
        rest = Length(bar.length - bar.head - sum(lengths) - max(len(lengths) - 1, 0) * group.saw.kerf)
        made.append(sawn_bar(bar.number, kinds[bar.source], in_order, rest, group.saw, bar.tail_tag))
    before = stop_changes([[cut.length for cut in bar.cuts] for bar in bars])
    return tuple(made), _price(bars, before, found.changes, cost)


def _price(bars: Sequence[PlannedBar], before: int, after: int, cost: int) -> GoalPrice:
    # Each bar needs all its own stops one after another.
    bound = max(sum(len({cut.length for cut in bar.cuts}) - 1 for bar in bars if bar.cuts), 0)
    different = len({cut.length for bar in bars for cut in bar.cuts})
    return GoalPrice(
        goal="stop changes",
        cost_before=cost,
        cost_after=cost,
        value_before=before,
        value_after=after,
        lower_bound=max(bound, different - 1, 0),
    )


def _ways(bar: PlannedBar, saw: SawRules) -> dict[tuple[Length, Length], tuple[int, ...]]:
    """
    Give orders of the cuts by their first and last stop, the safe order first.

    Equal stops stay together; only orders that leave no more cuts unheld than the safe one count.
    """
    lengths = [cut.length for cut in bar.cuts]
    if not lengths:
        return {(Length(0), Length(0)): ()}
    safe = cut_order(lengths, bar.length, bar.head, saw)
    unheld = _unheld(safe, bar, saw)
    ways = {(lengths[safe[0]], lengths[safe[-1]]): safe}
    different = sorted(set(lengths), reverse=True)
    for first in different:
        for last in different:
            if (first == last) != (len(different) == 1) or (first, last) in ways:
                continue
            rank = {length: (length != first, length == last, -length) for length in different}
            way = tuple(sorted(range(len(lengths)), key=lambda c: rank[lengths[c]]))
            if _unheld(way, bar, saw) <= unheld:
                ways[first, last] = way
    return ways


def _unheld(order: Sequence[int], bar: PlannedBar, saw: SawRules) -> int:
    """Count the cuts that cannot be held in this order."""
    lengths = [bar.cuts[c].length for c in order]
    return held_cuts(lengths, bar.length, bar.head, saw).count(False)
