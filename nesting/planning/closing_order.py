"""
The order in which units are closed, by exact search.

The least possible number of units open at once depends only on which units share a bar, and it is enough
to decide in which order the units are closed (Chu and Stuckey, 2009, CP 2009, "Minimizing the maximum
number of open stacks by customer search"): closing a unit means cutting all its bars, which opens every
unit that shares one of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from nesting.planning.shared_bars import least_open, members

WIDEST_MOVE = 4
"""Units a sure move may open; its proof looks at all their subsets."""
GREEDY_STEPS = 3_000_000
"""Steps for greedy orders, one or two seconds; up to 144 units begin one each."""


class ClosingSearch:
    """
    Closes the units of one component one by one, with ever fewer open units allowed.

    After closing the units of S, the opened ones are O(S), the union of their ``near``; closing c next
    has |O(S + c)| - |S| units open at once.

    Parameters
    ----------
    near
        For each unit the set of those that share a bar with it, itself included.
    component
        The set of units to close; none of them shares a bar with another unit.
    max_nodes
        Steps of the search.
    begun
        The set of units that are open from the beginning: O(S) holds them from the empty S on.

    Attributes
    ----------
    best
        The units in the order in which to close them.
    bound
        No order has fewer open at once.
    nodes
        Steps taken.
    """

    def __init__(self, near: Sequence[int], component: int, max_nodes: int, *, begun: int = 0) -> None:
        self._near = near
        self._all = component
        self._max_nodes = max_nodes
        self._begun = begun
        self.nodes = 0
        self.bound = max(least_open(near, component), begun.bit_count())
        self.best: list[int] = []
        self._hopeless: set[int] = set()

    def run(self) -> None:
        """Improve the greedy order until nothing better exists or the steps are used up."""
        units = sorted(members(self._all), key=lambda i: (self._near[i].bit_count(), i))
        # A greedy order takes about n^2 steps; of many units only those with few neighbours begin one.
        starts = units[: max(GREEDY_STEPS // len(units) ** 2, 1)]
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
        closed, opened = 1 << first, self._begun | self._near[first]
        while closed != self._all:
            i = min(
                members(self._all & ~closed),
                key=lambda v: ((self._near[v] & ~opened).bit_count(), not opened >> v & 1, v),
            )
            order.append(i)
            closed |= 1 << i
            opened |= self._near[i]
        return self._value(order), order

    def _value(self, order: Sequence[int]) -> int:
        opened, most = self._begun, 0
        for number, i in enumerate(order):
            opened |= self._near[i]
            most = max(most, opened.bit_count() - number)
        return most

    def _within(self, limit: int) -> list[int] | None:
        """Give an order with at most ``limit`` open units; empty when none exists, None when unknown."""
        order: list[int] = []
        closed = self._close_finished(0, self._begun, order)
        stack = [(closed, self._begun, len(order), iter(self._moves(closed, self._begun, limit)))]
        while stack:
            closed, opened, length, moves = stack[-1]
            del order[length:]
            if closed == self._all:
                return order
            for move in moves:
                self.nodes += 1
                if self.nodes > self._max_nodes:
                    return None
                now_open = opened | self._near[move]
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
        for i in members(opened & ~closed):
            if not self._near[i] & ~opened:
                closed |= 1 << i
                order.append(i)
        return closed

    def _moves(self, closed: int, opened: int, limit: int) -> list[int]:
        """Give the units worth closing next, those that open fewest first; one alone when it is sure."""
        room = limit - (opened & ~closed).bit_count()
        seen: dict[int, int] = {}
        for i in members(self._all & ~closed):
            fresh = self._near[i] & ~opened
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
        parts = list(members(fresh))
        return all(
            self._net(closed, opened, sum(1 << i for i in some)) >= after
            for number in range(1, len(parts))
            for some in combinations(parts, number)
        )

    def _net(self, closed: int, opened: int, fresh: int) -> int:
        """Give how many more units are open once ``fresh`` is opened and all finished ones closed."""
        now_open = opened | fresh
        done = sum(1 for i in members(now_open & ~closed) if not self._near[i] & ~now_open)
        return fresh.bit_count() - done
