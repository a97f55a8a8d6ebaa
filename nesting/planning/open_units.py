"""
The order of the bars in which the fewest units stand half finished at once.

A unit is open from the first bar that holds a piece of it to the last one, both included. The least
possible maximum over all orders of the bars is the minimisation of open stacks. It depends only on
which units share a bar, and it is enough to decide in which order the units are closed (Chu and
Stuckey, 2009, CP 2009, "Minimizing the maximum number of open stacks by customer search"): closing
a unit means cutting all its bars, which opens every unit that shares one of them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from nesting.domain.goals import GoalPrice

WIDEST_MOVE = 4
"""Units a sure move may open; its proof looks at all their subsets."""
GREEDY_STEPS = 3_000_000
"""Steps for greedy orders, one or two seconds; up to 144 units begin one each."""


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


def order_for_open_units(bars: Sequence[Collection[str]], *, max_nodes: int = 200_000) -> OpenUnits:
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
    """
    names = sorted({unit for units in bars for unit in units})
    place = {unit: i for i, unit in enumerate(names)}
    masks = [sum(1 << place[unit] for unit in set(units)) for units in bars]
    near = [1 << i for i in range(len(names))]
    for mask in masks:
        for i in _members(mask):
            near[i] |= mask
    closing: list[int] = []
    bound = nodes = 0
    for component in _components(near):
        search = _Search(near, component, max_nodes - nodes)
        search.run()
        closing += search.best
        bound = max(bound, search.bound)
        nodes += search.nodes
    order = _bar_order(masks, closing)
    value = most_open([bars[i] for i in order])
    if (given := most_open(bars)) <= value:
        order, value = tuple(range(len(bars))), given
    return OpenUnits(order=order, value=value, lower_bound=bound, nodes=nodes)


def open_units_price(bars: Sequence[Collection[str]], *, cost: int, max_nodes: int = 200_000) -> GoalPrice:
    """Tell how many units fewer are open in the better order; bars only change places, so the cost stays."""
    found = order_for_open_units(bars, max_nodes=max_nodes)
    return GoalPrice(
        goal="most open units",
        cost_before=cost,
        cost_after=cost,
        value_before=most_open(bars),
        value_after=found.value,
        lower_bound=found.lower_bound,
    )


def _members(mask: int) -> Iterator[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def _components(near: Sequence[int]) -> Iterator[int]:
    """Give the sets of units that hang together; their orders do not touch each other."""
    left = (1 << len(near)) - 1
    while left:
        found = left & -left
        grown = 0
        while grown != found:
            fresh = found & ~grown
            grown = found
            for i in _members(fresh):
                found |= near[i]
        yield found
        left &= ~found


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


def _least_neighbours(near: Sequence[int], component: int) -> int:
    """
    Give a lower bound: units of a connected group that share bars with few others, merged step by step.

    The value is the pathwidth of the graph of units plus one, and no contraction raises it; a graph
    whose least degree is d needs d + 1 open units (contraction degeneracy, Bodlaender and Koster,
    2006, "least-c" rule).
    """
    around = {i: near[i] & component & ~(1 << i) for i in _members(component)}
    bound = 1
    while around:
        i = min(around, key=lambda v: (around[v].bit_count(), v))
        bound = max(bound, around[i].bit_count() + 1)
        mine = around.pop(i)
        for v in _members(mine):
            around[v] &= ~(1 << i)
        if mine:
            j = min(_members(mine), key=lambda v: ((around[v] & mine).bit_count(), v))
            around[j] |= mine & ~(1 << j)
            for v in _members(around[j]):
                around[v] |= 1 << j
    return bound


class _Search:
    """
    Closes the units of one component one by one, with ever fewer open units allowed.

    ``near[i]`` holds the units that share a bar with i, and i. After closing the units of S, the
    opened ones are O(S), the union of their ``near``; closing c next has |O(S + c)| - |S| units
    open at once.
    """

    def __init__(self, near: Sequence[int], component: int, max_nodes: int) -> None:
        self.near = near
        self.all = component
        self.max_nodes = max_nodes
        self.nodes = 0
        self.bound = _least_neighbours(near, component)
        self.best: list[int] = []
        self._hopeless: set[int] = set()

    def run(self) -> None:
        """Improve the greedy order until nothing better exists or the steps are used up."""
        members = sorted(_members(self.all), key=lambda i: (self.near[i].bit_count(), i))
        # A greedy order takes about n^2 steps; of many units only those with few neighbours begin one.
        starts = members[: max(GREEDY_STEPS // len(members) ** 2, 1)]
        value, self.best = min((self._greedy(i) for i in starts), key=lambda found: found[0])
        while value > self.bound:
            better = self._within(value - 1)
            if better is None:
                return
            if not better:
                self.bound = value
                return
            self.best = better
            value = self._value(better)

    def _greedy(self, first: int) -> tuple[int, list[int]]:
        """Close ``first``, then always the unit that opens fewest others."""
        order = [first]
        closed, opened = 1 << first, self.near[first]
        while closed != self.all:
            i = min(
                _members(self.all & ~closed),
                key=lambda v: ((self.near[v] & ~opened).bit_count(), not opened >> v & 1, v),
            )
            order.append(i)
            closed |= 1 << i
            opened |= self.near[i]
        return self._value(order), order

    def _value(self, order: Sequence[int]) -> int:
        opened = most = 0
        for number, i in enumerate(order):
            opened |= self.near[i]
            most = max(most, opened.bit_count() - number)
        return most

    def _within(self, limit: int) -> list[int] | None:
        """Give an order with at most ``limit`` open units; empty when none exists, None when unknown."""
        order: list[int] = []
        closed = self._close_finished(0, 0, order)
        stack = [(closed, 0, len(order), iter(self._moves(closed, 0, limit)))]
        while stack:
            closed, opened, length, moves = stack[-1]
            del order[length:]
            if closed == self.all:
                return order
            for move in moves:
                self.nodes += 1
                if self.nodes > self.max_nodes:
                    return None
                now_open = opened | self.near[move]
                now_closed = self._close_finished(closed, now_open, order)
                if now_closed in self._hopeless:
                    del order[length:]
                    continue
                stack.append(
                    (now_closed, now_open, len(order), iter(self._moves(now_closed, now_open, limit)))
                )
                break
            else:
                self._hopeless.add(closed)
                stack.pop()
        return []

    def _close_finished(self, closed: int, opened: int, order: list[int]) -> int:
        """Close every unit whose bars are all cut: that opens nothing."""
        for i in _members(opened & ~closed):
            if not self.near[i] & ~opened:
                closed |= 1 << i
                order.append(i)
        return closed

    def _moves(self, closed: int, opened: int, limit: int) -> list[int]:
        """Give the units worth closing next, those that open fewest first; one alone when it is sure."""
        room = limit - (opened & ~closed).bit_count()
        seen: dict[int, int] = {}
        for i in _members(self.all & ~closed):
            fresh = self.near[i] & ~opened
            # Units that open the same others are closed together, so one of them is enough.
            if fresh.bit_count() <= room and fresh not in seen:
                seen[fresh] = i
        ranked = sorted(seen.items(), key=lambda item: (item[0].bit_count(), item[1]))
        for fresh, i in ranked:
            if fresh.bit_count() > WIDEST_MOVE:
                break
            if self._is_sure(closed, opened, fresh):
                return [i]
        return [i for _, i in ranked]

    def _is_sure(self, closed: int, opened: int, fresh: int) -> bool:
        """
        Tell whether opening ``fresh`` now can never be a mistake.

        f(S) = |O(S)| - |S| is submodular, so if no subset of the units closed by this move leaves
        fewer open than the whole move does, then doing the whole move first raises no later count.
        """
        after = self._net(closed, opened, fresh)
        if after > 0:
            return False
        parts = list(_members(fresh))
        return all(
            self._net(closed, opened, sum(1 << i for i in some)) >= after
            for number in range(1, len(parts))
            for some in combinations(parts, number)
        )

    def _net(self, closed: int, opened: int, fresh: int) -> int:
        """Give how many more units are open once ``fresh`` is opened and all finished ones closed."""
        now_open = opened | fresh
        done = sum(1 for i in _members(now_open & ~closed) if not self.near[i] & ~now_open)
        return fresh.bit_count() - done
