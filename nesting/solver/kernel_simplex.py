"""The inner loops of the simplex method, primal and dual; see ``kernel``."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nesting.solver.kernel import Floats, Ints


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
