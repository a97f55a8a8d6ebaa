"""The best pattern through each length, all read from one table of the pricing problem."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nesting.solver.kernel import Floats, Ints


def patterns_through(
    sizes: Ints,
    values: Floats,
    limits: Ints,
    owner: Ints,
    pieces: Ints,
    taken: NDArray[np.uint8],
    total: Floats,
    capacity: int,
    floor: float,
    found: Ints,
) -> int:
    """
    Give for each length one piece of it with the most valuable pieces for the rest of the bar.

    Parameters
    ----------
    sizes, values, limits
        Of the lengths, shape ``(n,)``.
    owner, pieces
        Length and number of pieces of each bundle, shape ``(bundles,)``.
    taken, total
        What ``kernel.price_table`` filled.
    floor
        Only patterns worth more than this count.
    found
        Filled with the counts of one pattern a row, shape ``(n, n)``; zeros on entry.

    Returns
    -------
    int
        Number of patterns.
    """
    number = 0
    for i in range(sizes.shape[0]):
        room = capacity - sizes[i]
        if room < 0 or values[i] + total[room] <= floor:
            continue
        found[number, i] = 1
        for b in range(owner.shape[0] - 1, -1, -1):
            if taken[b, room]:
                found[number, owner[b]] += pieces[b]
                room -= pieces[b] * sizes[owner[b]]
        if found[number, i] > limits[i]:
            found[number, :] = 0
            continue
        number += 1
    return number
