"""Pricing of whole runs: the pattern worth most for every number of bars it may be cut on."""

from __future__ import annotations

import numpy as np

from nesting.solver.fewer_patterns_machine_code import machine_code
from nesting.solver.kernel import Floats, Ints


@machine_code()
def price_runs(
    sizes: Ints,
    demand: Ints,
    duals: Floats,
    bar_dual: float,
    room: int,
    fewest: int,
    slack: int,
    waste: int,
    most_pieces: int,
    most_lengths: int,
    longest: int,
    runs: Ints,
    values: Floats,
) -> None:
    """
    Find for every number of bars t the pattern worth most when it is cut t times.

    A bounded knapsack of the pieces that t bars can take from the demand, by a table over all fills
    that waste neither more than ``waste`` a bar nor more than ``slack`` in all.

    Parameters
    ----------
    duals, bar_dual
        Worth of a piece of each length, shape ``(m,)``, and of a bar.
    longest
        Most bars of one run.
    runs, values
        Filled with the pieces of a bar and the worth of the run, shape ``(longest + 1, m)`` and
        ``(longest + 1,)``; minus infinity where there is no such pattern.
    """
    m = sizes.shape[0]
    worth = np.empty(room + 1)
    taken = np.zeros((m, room + 1), np.int32)
    for t in range(1, longest + 1):
        worth[:] = -np.inf
        worth[0] = 0.0
        top = 0
        for i in range(m):
            most = demand[i] // t
            if most == 0:
                continue
            size = sizes[i]
            top = min(room, top + most * size)
            for fill in range(top, -1, -1):
                best = worth[fill]
                number = 0
                for a in range(1, most + 1):
                    if a * size > fill:
                        break
                    value = worth[fill - a * size] + a * duals[i]
                    if value > best + 1e-12:
                        best = value
                        number = a
                worth[fill] = best
                taken[i, fill] = number
        values[t] = -np.inf
        found = -1
        for fill in range(max(1, fewest, room - min(waste, slack // t)), top + 1):
            if worth[fill] > -np.inf and (found < 0 or worth[fill] > worth[found]):
                found = fill
        if found < 0:
            continue
        value = worth[found]
        pieces = 0
        lengths = 0
        for i in range(m - 1, -1, -1):
            runs[t, i] = 0
            if demand[i] // t == 0:
                continue
            number = taken[i, found]
            runs[t, i] = number
            found -= number * sizes[i]
            pieces += number
            lengths += number > 0
        if pieces <= most_pieces and lengths <= most_lengths:
            values[t] = t * (value + bar_dual)
