"""Lower bounds on cost and bars, with their proofs in the docstrings."""

from __future__ import annotations

from collections.abc import Iterable
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
