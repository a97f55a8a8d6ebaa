"""The inner loops over listed patterns; see ``kernel``."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nesting.solver.kernel import Floats, Ints

Rows = NDArray[np.int32]


def list_paths(
    sizes: Ints,
    limits: Ints,
    values: Floats,
    paid: float,
    pieces: NDArray[np.uint8],
    ends: NDArray[np.uint8],
    least: float,
    max_nodes: int,
    starts: Ints,
    rows: Rows,
    entries: Rows,
) -> int:
    """
    List the patterns whose paths use only the given arcs and are worth at least ``least``.

    A table of the best completion from every place lets no branch be entered in vain.

    Parameters
    ----------
    sizes, limits, values
        Size, pieces at most and value of each length, longest first, shape ``(m,)``; whole numbers.
    paid
        What a bar costs, in the values' units.
    pieces, ends
        Arcs and ends, shapes ``(m, capacity + 1)`` and ``(capacity + 1,)``.
    starts, rows, entries
        Filled with one pattern after the other, compressed.

    Returns
    -------
    int
        Number of patterns; -1 when there is no room for them or ``max_nodes`` leaves did not suffice.
    """
    m = sizes.shape[0]
    width = pieces.shape[1]
    back = np.empty((m + 1, width), np.float64)
    for w in range(width):
        back[m, w] = -paid if ends[w] else -1e300
    for i in range(m - 1, -1, -1):
        for w in range(width):
            back[i, w] = back[i + 1, w]
        for _ in range(limits[i]):
            # Ascending places read what the copy before has left.
            for w in range(width - sizes[i]):
                if pieces[i, w]:
                    back[i, w] = max(back[i, w], back[i, w + sizes[i]] + values[i])
    count = np.zeros(m, np.int64)
    number = 0
    filled = 0
    nodes = 0
    total = 0.0
    w = 0
    i = 0
    starts[0] = 0
    while True:
        while i < m and total + back[i, w] >= least:
            n = 0
            place = w
            while n < limits[i] and place + sizes[i] < width and pieces[i, place]:
                place += sizes[i]
                n += 1
            while n > 0 and total + n * values[i] + back[i + 1, w + n * sizes[i]] < least:
                n -= 1
            count[i] = n
            w += n * sizes[i]
            total += n * values[i]
            i += 1
        nodes += 1
        if nodes > max_nodes:
            return -1
        if i == m and total + back[m, w] >= least:
            if number + 1 == starts.shape[0] or filled + m > rows.shape[0]:
                return -1
            for j in range(m):
                if count[j] > 0:
                    rows[filled] = j
                    entries[filled] = count[j]
                    filled += 1
            number += 1
            starts[number] = filled
        i -= 1
        while i >= 0:
            if count[i] == 0:
                i -= 1
                continue
            count[i] -= 1
            w -= sizes[i]
            total -= values[i]
            if total + back[i + 1, w] >= least:
                break
        if i < 0:
            return number
        i += 1


def price_listing(
    starts: Ints,
    rows: Rows,
    entries: Rows,
    dead: Rows,
    duals: Floats,
    floor: float,
    best: Floats,
    which: Ints,
) -> float:
    """
    Find the dearest living pattern through each length.

    Parameters
    ----------
    dead
        Not 0 for patterns that are out, shape ``(patterns,)``.
    floor
        Only patterns worth more are told.
    best, which
        Filled for each length with the worth and number of its pattern; -1 where there is none.

    Returns
    -------
    float
        Worth of the dearest of all; -1e300 when none lives.
    """
    best[:] = floor
    which[:] = -1
    top = -1e300
    for p in range(dead.shape[0]):
        if dead[p] == 0:
            worth = 0.0
            for q in range(starts[p], starts[p + 1]):
                worth += duals[rows[q]] * entries[q]
            top = max(top, worth)
            if worth > floor:
                for q in range(starts[p], starts[p + 1]):
                    if worth > best[rows[q]]:
                        best[rows[q]] = worth
                        which[rows[q]] = p
    return top


def dearest_listed(starts: Ints, rows: Rows, entries: Rows, dead: Rows, duals: Ints) -> int:
    """Give the worth of the dearest living pattern in whole numbers; 0 when none is worth more."""
    top = 0
    for p in range(dead.shape[0]):
        if dead[p] == 0:
            worth = 0
            for q in range(starts[p], starts[p + 1]):
                worth += duals[rows[q]] * entries[q]
            top = max(top, worth)
    return top


def kill_pair(
    starts: Ints, rows: Rows, entries: Rows, dead: Rows, stamp: int, i: int, j: int, both: bool, lone: bool
) -> None:
    """
    Kill patterns that a decision on the lengths i and j rules out.

    Parameters
    ----------
    both
        Kill those that hold both; else those that hold i without j.
    lone
        Kill those that hold j without i, too; for ``both`` not set.
    """
    for p in range(dead.shape[0]):
        if dead[p] == 0:
            has_i = False
            has_j = False
            for q in range(starts[p], starts[p + 1]):
                if rows[q] == i:
                    has_i = True
                elif rows[q] == j:
                    has_j = True
            if both:
                if has_i and has_j:
                    dead[p] = stamp
            elif (has_i and not has_j) or (lone and has_j and not has_i):
                dead[p] = stamp


def kill_beyond(starts: Ints, rows: Rows, entries: Rows, dead: Rows, stamp: int, demands: Ints) -> None:
    """Kill patterns that hold more of a length than is open."""
    for p in range(dead.shape[0]):
        if dead[p] == 0:
            for q in range(starts[p], starts[p + 1]):
                if entries[q] > demands[rows[q]]:
                    dead[p] = stamp
                    break
