"""
The inner loops of pricing: the bounded knapsack by tree and by table, and the listing of patterns.

Plain functions over numpy arrays that call nothing but numpy, so that the same text runs interpreted
for tiny groups and compiled for all others (see ``engine``). So do those of ``kernel_arcs``,
``kernel_listing``, ``kernel_simplex`` and ``kernel_through``.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def price_tree(
    sizes: Ints,
    values: Floats,
    limits: Ints,
    capacity: int,
    floor: float,
    step: float,
    max_nodes: int,
    best: Ints,
) -> tuple[float, float, int]:
    """
    Find the most valuable pieces that fit a bar, depth first (bounded knapsack).

    Lengths come by falling value per size; a branch is cut when the linear relaxation of what is
    left cannot beat the best by more than ``step`` (Martello and Toth, 1990, Knapsack Problems,
    ch. 3). With whole-number values below 2**45 and ``step`` 0.5 the answer is exact: the
    relaxation's rounding error is far below one half.

    Parameters
    ----------
    sizes, values, limits
        Shape ``(n,)``; values more than zero, falling value per size.
    floor
        Only a sum above this counts.
    max_nodes
        Leaves looked at before giving up.
    best
        Filled with the counts of the best pattern, shape ``(n,)``; untouched when none beats ``floor``.

    Returns
    -------
    tuple
        Best sum (``floor`` when none is better), an upper bound on every sum, leaves looked at.
    """
    n = sizes.shape[0]
    count = np.zeros(n, np.int64)
    smallest = np.empty(n + 1, np.int64)
    smallest[n] = capacity + 1
    for i in range(n - 1, -1, -1):
        smallest[i] = min(smallest[i + 1], sizes[i]) if limits[i] > 0 else smallest[i + 1]
    rest = capacity
    total = 0.0
    top = floor
    ceiling = floor
    nodes = 0
    i = 0
    while True:
        while i < n and rest >= smallest[i]:
            bound = total
            room = rest
            for j in range(i, n):
                whole = sizes[j] * limits[j]
                if whole <= room:
                    room -= whole
                    bound += values[j] * limits[j]
                else:
                    bound += values[j] * room / sizes[j]
                    break
            if nodes == 0 and i == 0:
                ceiling = max(bound, floor)
            if bound <= top + step:
                break
            take = min(limits[i], rest // sizes[i])
            count[i] = take
            rest -= take * sizes[i]
            total += take * values[i]
            i += 1
        if total > top:
            top = total
            for j in range(n):
                best[j] = count[j] if j < i else 0
        nodes += 1
        if nodes >= max_nodes:
            return top, ceiling, nodes
        i -= 1
        while i >= 0 and count[i] == 0:
            i -= 1
        if i < 0:
            return top, top + step, nodes
        count[i] -= 1
        rest += sizes[i]
        total -= values[i]
        i += 1


def price_table(
    sizes: Ints, values: Floats, limits: Ints, capacity: int, taken: NDArray[np.uint8], total: Floats
) -> None:
    """
    Find the most valuable pieces for every capacity at once, by dynamic programming.

    Each length is entered as bundles of 1, 2, 4, ... pieces (Martello and Toth, 1990, sec. 3.2).

    Parameters
    ----------
    sizes, values, limits
        Bundles: their size, value; ``limits`` is the number of pieces in the bundle and is not used
        here beyond its length, shape ``(n,)``.
    taken
        Filled with 1 where the bundle is in the best pattern of that capacity, shape ``(n, capacity + 1)``.
    total
        Filled with the best sum for each capacity, shape ``(capacity + 1,)``.
    """
    total[:] = 0.0
    for b in range(limits.shape[0]):
        size = sizes[b]
        value = values[b]
        for c in range(capacity, size - 1, -1):
            better = total[c - size] + value
            if better > total[c]:
                total[c] = better
                taken[b, c] = 1
            else:
                taken[b, c] = 0
        for c in range(min(size, capacity + 1)):
            taken[b, c] = 0


def list_patterns(
    sizes: Ints,
    values: Floats,
    limits: Ints,
    capacity: int,
    least: float,
    max_nodes: int,
    found: Ints,
) -> int:
    """
    List the full patterns worth at least ``least``: those that no open piece fits any more.

    Parameters
    ----------
    sizes, values, limits
        Shape ``(n,)``; falling value per size, values not negative.
    found
        Filled with the counts of one pattern a row, shape ``(room, n)``.

    Returns
    -------
    int
        Number of patterns; -1 when there are more than ``found`` has room for or ``max_nodes`` leaves
        did not suffice.
    """
    n = sizes.shape[0]
    count = np.zeros(n, np.int64)
    rest = capacity
    total = 0.0
    number = 0
    nodes = 0
    i = 0
    while True:
        while i < n:
            bound = total
            room = rest
            for j in range(i, n):
                whole = sizes[j] * limits[j]
                if whole <= room:
                    room -= whole
                    bound += values[j] * limits[j]
                else:
                    bound += values[j] * room / sizes[j]
                    break
            if bound < least - 0.5:
                break
            take = min(limits[i], rest // sizes[i])
            count[i] = take
            rest -= take * sizes[i]
            total += take * values[i]
            i += 1
        if i == n and total >= least:
            full = True
            for j in range(n):
                if count[j] < limits[j] and sizes[j] <= rest:
                    full = False
            if full:
                if number == found.shape[0]:
                    return -1
                found[number, :] = count
                number += 1
        nodes += 1
        if nodes >= max_nodes:
            return -1
        i -= 1
        while i >= 0 and count[i] == 0:
            i -= 1
        if i < 0:
            return number
        count[i] -= 1
        rest += sizes[i]
        total -= values[i]
        i += 1
