"""Lower bounds on cost and bars, with their proofs in the docstrings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
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
    covers = _Covers(bars, size, max_steps)
    best: Choice | None = None
    try:
        for best, _ in covers:
            covers.limit = best.cost - 1
    except _Exhausted:
        return None
    if best is None:
        return None
    covers.limit, most = best.cost, -1
    with suppress(_Exhausted):
        for choice, spare in covers:
            if spare > most:
                best, most = choice, spare
    return best


class _Covers:
    """
    Every choice of bars with room for a size that costs at most ``limit``, and the room it has to spare.

    Kind by kind, the cheapest room first and many before few. The limit may be lowered on the way; None is
    none. What bars are left for the kinds to come is bounded as if they were divisible.
    """

    def __init__(self, bars: Sequence[tuple[int, int, int | None]], size: int, max_steps: int) -> None:
        self.limit: int | None = None
        self._size = size
        self._steps = max_steps
        self._order = sorted(range(len(bars)), key=lambda k: (Fraction(bars[k][1], bars[k][0]), -bars[k][0]))
        self._bars = [
            (capacity, cost, -(-size // capacity) if count is None else count)
            for capacity, cost, count in (bars[k] for k in self._order)
        ]

    def __iter__(self) -> Iterator[tuple[Choice, int]]:
        """
        Give choice and room to spare.

        Raises
        ------
        _Exhausted
            When the steps allowed are used up.
        """
        numbers = [0] * len(self._bars)
        # Kind, size still to hold, cost so far, how many of the kind are tried next.
        open_ = [(0, self._size, 0, self._most(0, self._size))] if self._bars else []
        while open_:
            place, left, cost, number = open_.pop()
            capacity, each, _ = self._bars[place]
            missing, spent = left - number * capacity, cost + number * each
            numbers[place] = number
            if missing > 0:
                least = self._least(place + 1, missing)
                if least is None or (self.limit is not None and spent + least > self.limit):
                    continue  # fewer of the kind with the cheapest room leave more to dearer ones
            if number:
                open_.append((place, left, cost, number - 1))
            if missing > 0:
                open_.append((place + 1, missing, spent, self._most(place + 1, missing)))
            elif self.limit is None or spent <= self.limit:
                yield self._choice(numbers[: place + 1], spent), -missing

    def _most(self, place: int, left: int) -> int:
        capacity, _, count = self._bars[place]
        return min(count, -(-left // capacity))

    def _least(self, place: int, left: int) -> int | None:
        """Give the least whole cost of the size left, were bars divisible; None when they are too few."""
        cost = 0
        self._steps -= 1 + len(self._bars) - place
        if self._steps < 0:
            raise _Exhausted
        for capacity, each, count in self._bars[place:]:
            if capacity * count >= left:
                return cost - (-left * each // capacity)
            cost += count * each
            left -= count * capacity
        return None

    def _choice(self, numbers: Sequence[int], cost: int) -> Choice:
        times = [0] * len(self._bars)
        for k, number in zip(self._order, numbers, strict=False):
            times[k] = number
        return Choice(cost, tuple(times))


class _Exhausted(Exception):
    """The steps allowed are used up."""
