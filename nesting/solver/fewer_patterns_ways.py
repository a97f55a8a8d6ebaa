"""The few ways in which the pieces of one length can be spread over bins of equal bars."""

from __future__ import annotations

import numpy as np

from nesting.solver.fewer_patterns_machine_code import machine_code
from nesting.solver.kernel import Ints

MOST_BINS = 5
"""Patterns that one round takes apart at most."""
MOST_WAYS = 3000
"""Ways to spread the lengths of one round; rounds with more are given up."""


@machine_code()
def list_ways(
    n: int, demand: Ints, sizes: Ints, bins: int, y: Ints, room: Ints, most: int, starts: Ints, ways: Ints
) -> bool:
    """
    List for each length its ways a with sum(a_j y_j) = demand; False when one has none or all too many.

    Parameters
    ----------
    demand, sizes
        Pieces and size of each length, shape ``(n,)``.
    y, room
        Bars behind each bin, and the size a bar holds; shape ``(bins,)``.
    most
        Pieces that a bar may hold.
    starts, ways
        Filled: the ways of length i are the rows starts[i] to starts[i + 1] - 1 of ``ways``.
    """
    a = np.zeros(MOST_BINS, np.int64)
    total = 0
    for i in range(n):
        starts[i] = total
        left = demand[i]
        j = 0
        a[0] = min(left // y[0], room[0] // sizes[i], most)
        left -= a[0] * y[0]
        while j >= 0:
            if j == bins - 1:
                if left == 0:
                    if total == MOST_WAYS:
                        return False
                    for b in range(bins):
                        ways[total, b] = a[b]
                    total += 1
                # the last number is forced, so step the one before it
                left += a[j] * y[j]
                j -= 1
                while j >= 0 and a[j] == 0:
                    j -= 1
                if j >= 0:
                    a[j] -= 1
                    left += y[j]
            else:
                j += 1
                a[j] = min(left // y[j], room[j] // sizes[i], most)
                left -= a[j] * y[j]
        if total == starts[i]:
            return False
    starts[n] = total
    return True


@machine_code()
def few_ways_first(n: int, sizes: Ints, starts: Ints, order: Ints) -> None:
    """Fill ``order`` with the lengths, those with few ways first, then large ones."""
    for i in range(n):
        at = i
        number = starts[i + 1] - starts[i]
        while at > 0:
            before = order[at - 1]
            others = starts[before + 1] - starts[before]
            if others < number or (others == number and sizes[before] >= sizes[i]):
                break
            order[at] = before
            at -= 1
        order[at] = i


@machine_code()
def few_bins_first(n: int, bins: int, starts: Ints, ways: Ints) -> None:
    """Sort the ways of each length, those that use few bins first."""
    for i in range(n):
        for o in range(starts[i] + 1, starts[i + 1]):
            at = o
            while at > starts[i]:
                here, there = 0, 0
                for j in range(bins):
                    here += ways[at, j] > 0
                    there += ways[at - 1, j] > 0
                if there <= here:
                    break
                for j in range(bins):
                    ways[at, j], ways[at - 1, j] = ways[at - 1, j], ways[at, j]
                at -= 1
