"""Sets of sums as bits: which fills of a bar some lengths can bring."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nesting.solver.fewer_patterns_machine_code import machine_code
from nesting.solver.kernel import Ints

Words = NDArray[np.uint64]


@machine_code()
def highest(words: Words, at_most: int, at_least: int) -> int:
    """Give the highest set bit in at_least..at_most, or -1."""
    if at_least < 0:
        at_least = 0
    if at_most < at_least:
        return -1
    one = np.uint64(1)
    word = at_most >> 6
    bits = words[word]
    top = at_most & 63
    if top < 63:
        bits &= (one << np.uint64(top + 1)) - one
    last = at_least >> 6
    while bits == np.uint64(0):
        word -= 1
        if word < last:
            return -1
        bits = words[word]
    place = 0
    step = 32
    while step:
        if bits >> np.uint64(step):
            bits >>= np.uint64(step)
            place += step
        step >>= 1
    found = (word << 6) + place
    return found if found >= at_least else -1


@machine_code()
def or_shifted(into: Words, words: Words, shift: int, size: int) -> None:
    """Set into |= words << shift, over the first ``size`` words."""
    far = shift >> 6
    near = np.uint64(shift & 63)
    if shift & 63 == 0:
        for k in range(far, size):
            into[k] |= words[k - far]
        return
    back = np.uint64(64 - (shift & 63))
    if far < size:
        into[far] |= words[0] << near
    for k in range(far + 1, size):
        into[k] |= (words[k - far] << near) | (words[k - far - 1] >> back)


@machine_code()
def fill_reach(
    n: int, order: Ints, starts: Ints, ways: Ints, bin_: int, sizes: Ints, grain: int, top: int, reach: Words
) -> None:
    """
    Set bit s of reach[d] where the lengths order[d:] can bring the sum s to a bar of one bin.

    Parameters
    ----------
    order, sizes
        The lengths in the order they are spread, and their sizes, shape ``(n,)``.
    starts, ways
        Pieces that length i may give each bin: rows starts[i] to starts[i + 1] - 1 of ``ways``.
    bin_
        Column of ``ways``.
    grain
        Sizes count in grains rounded down; a sum of b pieces is then at most b grains too low.
    top
        Largest sum, in grains.
    reach
        Shape ``(n + 1, words)``.
    """
    size = (top >> 6) + 1
    for k in range(size):
        reach[n, k] = np.uint64(0)
    reach[n, 0] = np.uint64(1)
    for d in range(n - 1, -1, -1):
        i = order[d]
        for k in range(size):
            reach[d, k] = np.uint64(0)
        seen = 0
        for o in range(starts[i], starts[i + 1]):
            a = ways[o, bin_]
            if a < 62:
                if (seen >> a) & 1:
                    continue
                seen |= 1 << a
            shift = a * (sizes[i] // grain)
            if shift <= top:
                or_shifted(reach[d], reach[d + 1], shift, size)
