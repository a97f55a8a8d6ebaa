"""
The inner loops: two knapsacks and the two forms of the simplex method.

Plain functions over numpy arrays that call nothing but each other's arrays, so that the same text
runs interpreted for tiny groups and compiled for all others (see ``engine``).
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


def thin_out(
    owner: Ints,
    sizes: Ints,
    values: Floats,
    paid: Floats,
    old_pieces: NDArray[np.uint8],
    old_ends: NDArray[np.uint8],
    least: float,
    pieces: NDArray[np.uint8],
    ends: NDArray[np.uint8],
) -> None:
    """
    Mark the arcs that lie on a path worth at least ``least``, by a pass back and a pass forward.

    Parameters
    ----------
    owner
        Length of each copy, longest first, shape ``(copies,)``; a path takes a copy once at most.
    sizes, values
        Size and value of one piece of each length, shape ``(m,)``; whole numbers.
    paid
        What a bar of each kind costs, in the values' units, shape ``(kinds,)``.
    old_pieces, old_ends
        Arcs and ends that paths may use, shapes ``(m, capacity + 1)`` and ``(kinds, capacity + 1)``.
    pieces, ends
        Filled with 1 for those that survive; zeros on entry.
    """
    copies = owner.shape[0]
    width = old_pieces.shape[1]
    kinds = old_ends.shape[0]
    never = -1e300
    back = np.empty((copies + 1, width), np.float64)
    for w in range(width):
        back[copies, w] = never
        for k in range(kinds):
            if old_ends[k, w] and -paid[k] > back[copies, w]:
                back[copies, w] = -paid[k]
    for e in range(copies - 1, -1, -1):
        i = owner[e]
        size = sizes[i]
        for w in range(width):
            best = back[e + 1, w]
            if w + size < width and old_pieces[i, w]:
                other = back[e + 1, w + size] + values[i]
                best = max(best, other)
            back[e, w] = best
    front = np.full(width, never, np.float64)
    front[0] = 0.0
    for e in range(copies):
        i = owner[e]
        size = sizes[i]
        for w in range(width - size - 1, -1, -1):
            if old_pieces[i, w] and front[w] > never:
                with_it = front[w] + values[i]
                if with_it + back[e + 1, w + size] >= least:
                    pieces[i, w] = 1
                front[w + size] = max(front[w + size], with_it)
    for w in range(width):
        for k in range(kinds):
            if old_ends[k, w] and front[w] > never and front[w] - paid[k] >= least:
                ends[k, w] = 1


def primal_simplex(
    inverse: Floats,
    basis: Ints,
    level: Floats,
    duals: Floats,
    starts: Ints,
    rows: Ints,
    entries: Floats,
    costs: Floats,
    state: NDArray[np.int8],
    columns: int,
    max_pivots: int,
    tolerance: float,
) -> int:
    """
    Pivot columns of the pool into the basis until none is worth it (revised primal simplex).

    The basis inverse is kept dense: with a few hundred rows one pivot costs microseconds (Gilmore
    and Gomory, 1963, Oper. Res. 11, worked this way). Entering columns are chosen by devex reference
    weights (Harris, 1973, Math. Program. 5), which halved the pivots at 500 rows.

    Parameters
    ----------
    inverse, basis, level, duals
        Basis inverse ``(m, m)``, its column numbers, their (shifted) levels and the duals; updated.
    starts, rows, entries, costs
        The pool's columns, compressed.
    state
        Per column: 0 may enter, 1 in the basis, 2 barred, 3 in the basis but barred; updated.
    columns
        Columns in the pool.

    Returns
    -------
    int
        Pivots made; less than ``max_pivots`` when optimal over the pool, -1 when a column is
        unbounded, which means that the inverse has lost its accuracy.
    """
    m = inverse.shape[0]
    alpha = np.empty(m, np.float64)
    weight = np.ones(columns, np.float64)
    pivots = 0
    while pivots < max_pivots:
        enter = -1
        worst = 0.0
        steepest = 0.0
        for j in range(columns):
            if state[j] == 0:
                price = costs[j]
                for p in range(starts[j], starts[j + 1]):
                    price -= duals[rows[p]] * entries[p]
                if price < -tolerance and price * price > steepest * weight[j]:
                    steepest = price * price / weight[j]
                    worst = price
                    enter = j
        if enter < 0:
            return pivots
        for r in range(m):
            s = 0.0
            for p in range(starts[enter], starts[enter + 1]):
                s += inverse[r, rows[p]] * entries[p]
            alpha[r] = s
        leave = -1
        ratio = 0.0
        for r in range(m):
            if alpha[r] > 1e-9:
                step = max(level[r], 0.0) / alpha[r]
                if leave < 0 or step < ratio - 1e-13 or (step <= ratio and alpha[r] > alpha[leave]):
                    leave = r
                    ratio = step
        if leave < 0:
            return -1
        pivot = alpha[leave]
        reference = weight[enter]
        for j in range(columns):
            if state[j] == 0 and j != enter:
                t = 0.0
                for p in range(starts[j], starts[j + 1]):
                    t += inverse[leave, rows[p]] * entries[p]
                if t != 0.0:
                    t /= pivot
                    weight[j] = max(weight[j], t * t * reference)
        weight[basis[leave]] = max(reference / (pivot * pivot), 1.0)
        for k in range(m):
            inverse[leave, k] /= pivot
        for r in range(m):
            if r != leave and alpha[r] != 0.0:
                a = alpha[r]
                for k in range(m):
                    inverse[r, k] -= a * inverse[leave, k]
                level[r] -= a * ratio
        level[leave] = ratio
        for k in range(m):
            duals[k] += worst * inverse[leave, k]
        state[basis[leave]] = 2 if state[basis[leave]] == 3 else 0
        state[enter] = 1
        basis[leave] = enter
        pivots += 1
    return pivots


def dual_simplex(
    inverse: Floats,
    basis: Ints,
    level: Floats,
    duals: Floats,
    starts: Ints,
    rows: Ints,
    entries: Floats,
    costs: Floats,
    state: NDArray[np.int8],
    columns: int,
    max_pivots: int,
) -> int:
    """
    Pivot negative levels and barred columns out of an optimal basis whose right-hand side changed.

    Parameters are those of ``primal_simplex``.

    Returns
    -------
    int
        Pivots made; ``max_pivots`` when there may be more to do, -1 when no pivot is possible.
    """
    m = inverse.shape[0]
    alpha = np.empty(m, np.float64)
    pivots = 0
    while pivots < max_pivots:
        leave = -1
        worst = 1e-9
        for r in range(m):
            wrong = -level[r]
            if state[basis[r]] == 3:
                wrong = 1.0 + abs(level[r])
            if wrong > worst:
                worst = wrong
                leave = r
        if leave < 0:
            return pivots
        barred = state[basis[leave]] == 3
        enter = -1
        ratio = 0.0
        size = 0.0
        price_in = 0.0
        for j in range(columns):
            if state[j] == 0:
                a = 0.0
                for p in range(starts[j], starts[j + 1]):
                    a += inverse[leave, rows[p]] * entries[p]
                # The level falls to zero, or rises to it; one that is zero may leave either way.
                if barred and level[leave] <= 1e-9 and level[leave] >= -1e-9:
                    a = abs(a)
                elif level[leave] < 0.0:
                    a = -a
                if a > 1e-7:
                    price = costs[j]
                    for p in range(starts[j], starts[j + 1]):
                        price -= duals[rows[p]] * entries[p]
                    step = max(price, 0.0) / a
                    if enter < 0 or step < ratio - 1e-12 or (step <= ratio and a > size):
                        enter = j
                        ratio = step
                        size = a
                        price_in = price
        if enter < 0:
            return -1
        for r in range(m):
            s = 0.0
            for p in range(starts[enter], starts[enter + 1]):
                s += inverse[r, rows[p]] * entries[p]
            alpha[r] = s
        pivot = alpha[leave]
        theta = level[leave] / pivot
        for k in range(m):
            inverse[leave, k] /= pivot
        for r in range(m):
            if r != leave and alpha[r] != 0.0:
                a = alpha[r]
                for k in range(m):
                    inverse[r, k] -= a * inverse[leave, k]
                level[r] -= a * theta
        level[leave] = theta
        for k in range(m):
            duals[k] += price_in * inverse[leave, k]
        state[basis[leave]] = 2 if barred else 0
        state[enter] = 1
        basis[leave] = enter
        pivots += 1
    return pivots
