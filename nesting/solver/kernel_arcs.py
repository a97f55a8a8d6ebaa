"""The inner loops over arcs; see ``kernel``."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nesting.solver.kernel import Floats, Ints


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
