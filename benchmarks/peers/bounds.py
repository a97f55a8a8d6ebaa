"""Textbook lower bounds that models are given, so that no peer starts from nothing."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, gcd

from benchmarks.peers.answer import sizes
from nesting.domain.problem import Problem


def rounded_up(problem: Problem, bound: Fraction | float) -> int:
    """Give a bound rounded up to the next cost that any number of bars can come to."""
    step = gcd(*(bar.cost for bar in problem.bars)) or 1
    # A float bound comes from an engine that is exact to about 1e-6 of a cost step.
    exact = Fraction(bound) / step - (Fraction(1, 10**6) if isinstance(bound, float) else 0)
    return ceil(exact) * step


def material_bound(problem: Problem) -> int:
    """Give the cost of all material at the best price a unit of length, rounded up."""
    size = sizes(problem)
    total = sum(a * n for a, n in zip(size.pieces, problem.counts, strict=True))
    best = min(
        Fraction(bar.cost, capacity) for bar, capacity in zip(problem.bars, size.capacities, strict=True)
    )
    return rounded_up(problem, total * best)


def bars_bound(problem: Problem) -> int:
    """
    Give bound L2 on the number of bars of the longest kind.

    For each K up to half the capacity C: pieces longer than C - K fill a bar alone, pieces longer than C / 2
    need a bar each, and what of the pieces of at least K does not fit beside them needs further bars.
    Martello & Toth, Knapsack Problems (1990), section 8.3.
    """
    size = sizes(problem)
    capacity = max(size.capacities)
    pieces = list(zip(size.pieces, problem.counts, strict=True))
    best = 0
    for least in {0, *(a for a, _ in pieces if 2 * a <= capacity)}:
        alone = sum(n for a, n in pieces if a > capacity - least)
        large = sum(n for a, n in pieces if capacity - least >= a and 2 * a > capacity)
        room = large * capacity - sum(a * n for a, n in pieces if capacity - least >= a and 2 * a > capacity)
        small = sum(a * n for a, n in pieces if 2 * a <= capacity and a >= least)
        best = max(best, alone + large + max(0, ceil(Fraction(small - room, capacity))))
    return best


def cost_bound(problem: Problem) -> int:
    """Give the better of the material bound and L2 bars at the cheapest bar's cost."""
    return max(material_bound(problem), bars_bound(problem) * min(bar.cost for bar in problem.bars))
