"""Lower bounds on cost and bars, with their proofs in the docstrings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd

from nesting.domain.problem import Problem


@dataclass(frozen=True, slots=True)
class Filling:
    """
    Cheapest way to provide a size when pieces could be split freely over bars.

    Parameters
    ----------
    cost
        Its exact cost; parts of bars are paid in part.
    price
        Cost of the last unit of size.
    lacking
        Size that no bar is left for.
    """

    cost: Fraction
    price: Fraction
    lacking: int


def cheapest_filling(bars: Iterable[tuple[int, int, int | None]], size: int) -> Filling:
    """
    Fill ``size`` from the bars with the least cost per size first (fractional knapsack; Dantzig, 1957).

    Parameters
    ----------
    bars
        Capacity, cost, count (None for unlimited) of each kind; capacities more than zero.
    """
    cost = price = Fraction(0)
    left = size
    for capacity, each, count in sorted(bars, key=lambda bar: Fraction(bar[1], bar[0])):
        if left == 0:
            break
        part = left if count is None else min(left, capacity * count)
        if part:
            price = Fraction(each, capacity)
            cost += price * part
            left -= part
    return Filling(cost, price, left)


def volume_bound(problem: Problem) -> int:
    """
    Give a cost that no plan placing every piece can beat.

    Each piece needs its length and one kerf, each bar gives L - h - e + k; were pieces divisible,
    the cheapest filling would do. The cost of a plan is a whole multiple of the costs'
    greatest common divisor, so the bound is rounded up to one.
    """
    kerf = problem.kerf
    need = sum((length + kerf) * n for length, n in zip(problem.lengths, problem.counts, strict=True))
    bars = [(bar.usable + kerf, bar.cost, bar.count) for bar in problem.bars if bar.usable + kerf > 0]
    unit = gcd(*(bar.cost for bar in problem.bars)) or 1
    return ceil(cheapest_filling(bars, need).cost / unit) * unit


@dataclass(frozen=True, slots=True)
class Choice:
    """
    Whole bars, chosen for their room alone.

    Parameters
    ----------
    cost
        What they cost together.
    times
        How many of each kind, shape ``(kinds,)``.
    """

    cost: int
    times: tuple[int, ...]


def cheapest_choice(
    bars: Sequence[tuple[int, int, int | None]], size: int, *, max_steps: int = 300_000
) -> Choice | None:
    """
    Choose the cheapest whole bars that have room for a size in all; of these, the ones with the most room.

    The covering knapsack (Martello and Toth, Knapsack Problems, 1990, ch. 3; from memory) by branch and
    bound, its bound the cheapest filling of what is left. No plan that cuts pieces of this size together
    costs less, however they lie: a bar holds no more than its capacity.

    Parameters
    ----------
    bars
        Capacity, cost, count (None for unlimited) of each kind; capacities more than zero.
    max_steps
        Kinds looked at before it is given up.

    Returns
    -------
    Choice or None
        None when all bars together have too little room, or it was given up.
    """
    search = _Choosing(bars, size, max_steps)
    return search.best if search.finished else None


class _Choosing:
    """One search: first for the least cost, then with what steps are left for the most room at it."""

    def __init__(self, bars: Sequence[tuple[int, int, int | None]], size: int, max_steps: int) -> None:
        self.best: Choice | None = None
        self.finished = False
        self._room = -1
        self._steps = max_steps
        self._order = sorted(range(len(bars)), key=lambda k: (Fraction(bars[k][1], bars[k][0]), -bars[k][0]))
        self._bars = [
            (capacity, cost, -(-size // capacity) if count is None else count)
            for capacity, cost, count in (bars[k] for k in self._order)
        ]
        self._times = [0] * len(bars)
        try:
            self._choose(0, size, 0)
            self.finished = True
            if self.best is not None:
                self._room = 0
                self._choose(0, size, 0)
        except _Exhausted:
            pass

    def _choose(self, place: int, left: int, cost: int) -> bool:
        """Try numbers of one kind, most first; False when nothing good enough can come of it."""
        if left <= 0:
            self._keep(cost, -left)
            return True
        if self._beyond(cost + self._least(place, left)):
            return False
        capacity, each, count = self._bars[place]
        for times in range(min(count, -(-left // capacity)), -1, -1):
            self._times[self._order[place]] = times
            # Fewer of the kind with the cheapest room leave more to dearer ones, so no later one is better.
            if not self._choose(place + 1, left - times * capacity, cost + times * each):
                break
        self._times[self._order[place]] = 0
        return True

    def _least(self, place: int, left: int) -> int:
        """Give the least whole cost of the size left, were bars divisible; too much when they are too few."""
        cost = 0
        self._steps -= 1 + len(self._bars) - place
        if self._steps < 0:
            raise _Exhausted
        for capacity, each, count in self._bars[place:]:
            if capacity * count >= left:
                return cost - (-left * each // capacity)
            cost += count * each
            left -= count * capacity
        return _NEVER

    def _beyond(self, cost: int) -> bool:
        if cost >= _NEVER or self.best is None:
            return cost >= _NEVER
        return cost > self.best.cost if self._room >= 0 else cost >= self.best.cost

    def _keep(self, cost: int, room: int) -> None:
        better = self.best is None or cost < self.best.cost
        if better or (self._room >= 0 and self.best and cost == self.best.cost and room > self._room):
            self.best = Choice(cost, tuple(self._times))
            self._room = room if self._room >= 0 else -1


class _Exhausted(Exception):
    """The steps allowed are used up."""


_NEVER = 1 << 200
