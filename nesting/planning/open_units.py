"""
The order of the bars in which the fewest units stand half finished at once.

A unit is open from the first bar that holds a piece of it to the last one, both included. The least
possible maximum over all orders of the bars is the minimisation of open stacks, solved by the order in
which units are closed (`closing_order`).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from nesting.planning.closing_order import ClosingSearch
from nesting.planning.shared_bars import components, neighbours


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenUnits:
    """
    An order of the bars and how good it is.

    Parameters
    ----------
    order
        Indices of the bars, in cutting order.
    value
        Most units open at once.
    lower_bound
        No order has fewer.
    nodes
        Steps of the search.
    """

    order: tuple[int, ...]
    value: int
    lower_bound: int
    nodes: int = 0

    @property
    def proved(self) -> bool:
        """Whether no order keeps fewer units open."""
        return self.lower_bound >= self.value


def completion(bars: Sequence[Collection[str]]) -> dict[str, int]:
    """
    Tell after which bar each unit is complete: "305 complete after bar 17".

    Parameters
    ----------
    bars
        Units that have a piece on each bar, in cutting order; bars are numbered from 1.

    Returns
    -------
    Number of the last bar of each unit, earliest first, then by unit.
    """
    last = {unit: number for number, units in enumerate(bars, 1) for unit in units}
    return dict(sorted(last.items(), key=lambda item: (item[1], item[0])))


def most_open(bars: Sequence[Collection[str]]) -> int:
    """Give the most units that are open at once when the bars are cut in this order."""
    last = completion(bars)
    opened: set[str] = set()
    most = 0
    for number, units in enumerate(bars, 1):
        opened.update(units)
        most = max(most, len(opened))
        opened = {unit for unit in opened if last[unit] > number}
    return most


def order_for_open_units(
    bars: Sequence[Collection[str]], *, max_nodes: int = 200_000, begun: Collection[str] = ()
) -> OpenUnits:
    """
    Order the bars so that the most units open at once are as few as possible.

    Exact unless the limit is met; then the best order found, never worse than the given one. Bars
    may stand for groups of equal bars that are cut together.

    Parameters
    ----------
    bars
        Units that have a piece on each bar.
    max_nodes
        Steps of the search, the same on every machine.
    begun
        Units that are open before the first of these bars, and stay so until their last one.
    """
    names = sorted({unit for units in bars for unit in units})
    place = {unit: i for i, unit in enumerate(names)}
    masks = [sum(1 << place[unit] for unit in set(units)) for units in bars]
    near = neighbours(len(names), masks)
    closing: list[int] = []
    bound = nodes = 0
    first = {unit for unit in begun if unit in place}
    opened = sum(1 << place[unit] for unit in first)
    # What is open from the beginning waits for all others, whether they share a bar with it or not.
    for component in [(1 << len(names)) - 1] if opened else components(near):
        search = ClosingSearch(near, component, max_nodes - nodes, begun=opened)
        search.run()
        closing += search.best
        bound = max(bound, search.bound)
        nodes += search.nodes
    order = _bar_order(masks, closing)
    value = most_open([first, *(bars[i] for i in order)])
    if (given := most_open([first, *bars])) <= value:
        order, value = tuple(range(len(bars))), given
    return OpenUnits(order=order, value=value, lower_bound=bound, nodes=nodes)


def _bar_order(masks: Sequence[int], closing: Sequence[int]) -> tuple[int, ...]:
    """Cut, unit by unit, the bars it still lacks; bars of nobody come last."""
    order: list[int] = []
    waiting = dict.fromkeys(range(len(masks)))
    for unit in closing:
        mine = [bar for bar in waiting if masks[bar] >> unit & 1]
        order += mine
        for bar in mine:
            del waiting[bar]
    return (*order, *waiting)
