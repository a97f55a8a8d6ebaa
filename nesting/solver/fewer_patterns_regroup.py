"""
Regrouping: a few patterns taken apart and put together again as fewer, by exact search.

A round takes K patterns with the pieces they give, D_i of length i, and chooses new numbers of bars
y_1..y_T (T = K - 1, or T = K to move on) with the same bars of every kind in all. Then each length
has a few ways to be spread, a_i1 y_1 + ... + a_iT y_T = D_i, and a depth-first search picks one way
for every length such that no bar is overfilled. Combining 2 to 1, 3 to 2 and so on is the idea of
Foerster and Waescher (2000, IJPR 38:1657-1676); here the combination is found by exact search.
"""

from __future__ import annotations

import numpy as np

from nesting.solver.fewer_patterns_draw import below
from nesting.solver.fewer_patterns_machine_code import machine_code
from nesting.solver.fewer_patterns_sums import Words, fill_reach, highest
from nesting.solver.fewer_patterns_ways import few_bins_first, few_ways_first, list_ways
from nesting.solver.kernel import Ints


@machine_code(below, highest, list_ways)
def regroup(
    n: int,
    demand: Ints,
    sizes: Ints,
    bins: int,
    y: Ints,
    room: Ints,
    fewest: Ints,
    slack: int,
    grain: int,
    most_pieces: int,
    most_lengths: int,
    lean: bool,
    max_nodes: int,
    state: Ints,
    starts: Ints,
    ways: Ints,
    reach: Words,
    out: Ints,
) -> bool:
    """
    Spread every length over bins that stand for y_j bars each, no bar overfilled.

    Parameters
    ----------
    demand, sizes
        Pieces and size of each length, shape ``(n,)``.
    y, room, fewest
        Bars behind each bin, the size a bar holds and the least it must hold, shape ``(bins,)``.
    slack
        sum(y room) - sum(demand sizes): what the bars together may waste.
    grain
        Resolution of the table of sums; 1 is exact, a coarser one only prunes less.
    lean
        Whether to try ways that use few bins first.
    max_nodes
        Ways tried before giving up.
    starts, ways, reach
        Room for the search, shapes ``(n + 1,)``, ``(MOST_WAYS, MOST_BINS)`` and, with the largest
        room in grains, ``(MOST_BINS, n + 1, room // 64 + 1)``.
    out
        Filled with the pieces of each bin, shape ``(bins, n)``.
    """
    if not list_ways(n, demand, sizes, bins, y, room, most_pieces, starts, ways):
        return False
    order = np.empty(n, np.int64)
    few_ways_first(n, sizes, starts, order)
    if lean:
        few_bins_first(n, bins, starts, ways)
    waste = np.empty(bins, np.int64)
    blur = np.zeros(bins, np.int64)
    smallest = sizes[0]
    for i in range(n):
        smallest = min(smallest, sizes[i])
    for j in range(bins):
        waste[j] = min(slack // y[j], room[j] - fewest[j])
        if grain > 1:
            blur[j] = room[j] // smallest + 1
        top = room[j] // grain
        fill_reach(n, order, starts, ways, j, sizes, grain, top, reach[j])
        if highest(reach[j, 0], top, (room[j] - waste[j]) // grain - blur[j]) < 0:
            return False
    rest = np.zeros((n + 1, bins), np.int64)
    pieces = np.zeros((n + 1, bins), np.int64)
    lengths = np.zeros((n + 1, bins), np.int64)
    first = np.zeros(n, np.int64)
    tried = np.zeros(n, np.int64)
    chosen = np.zeros(n, np.int64)
    for j in range(bins):
        rest[0, j] = room[j]
    d = 0
    nodes = 0
    first[0] = 0 if lean else below(state, starts[order[0] + 1] - starts[order[0]])
    while True:
        i = order[d]
        number = starts[i + 1] - starts[i]
        if tried[d] == number:
            if d == 0:
                return False
            d -= 1
            continue
        o = starts[i] + (first[d] + tried[d]) % number
        tried[d] += 1
        nodes += 1
        if nodes > max_nodes:
            return False
        least_waste = 0
        fits = True
        for j in range(bins):
            a = ways[o, j]
            left = rest[d, j] - a * sizes[i]
            if left < 0:
                fits = False
                break
            rest[d + 1, j] = left
            pieces[d + 1, j] = pieces[d, j] + a
            lengths[d + 1, j] = lengths[d, j] + (a > 0)
            if pieces[d + 1, j] > most_pieces or lengths[d + 1, j] > most_lengths:
                fits = False
                break
            filled = highest(reach[j, d + 1], left // grain, (left - waste[j]) // grain - blur[j])
            if filled < 0 or (d + 1 == n and left > waste[j]):
                fits = False
                break
            least_waste += y[j] * max(0, left - (filled + blur[j]) * grain)
            if least_waste > slack:
                fits = False
                break
        if not fits:
            continue
        chosen[d] = o
        d += 1
        if d == n:
            break
        tried[d] = 0
        first[d] = 0 if lean else below(state, starts[order[d] + 1] - starts[order[d]])
    for d in range(n):
        for j in range(bins):
            out[j, order[d]] = ways[chosen[d], j]
    return True
