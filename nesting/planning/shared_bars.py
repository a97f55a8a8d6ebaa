"""
Which units share a bar, and what follows from that alone.

``near[i]`` holds unit i and the units that share a bar with it; sets of units are the bits of a number.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence


def members(mask: int) -> Iterator[int]:
    """Give the units of a set, lowest number first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def neighbours(units: int, bars: Sequence[int]) -> list[int]:
    """
    Give for each unit the set of those that share a bar with it, itself included.

    Parameters
    ----------
    units
        Number of units.
    bars
        The set of units that have a piece on each bar.
    """
    near = [1 << i for i in range(units)]
    for bar in bars:
        for i in members(bar):
            near[i] |= bar
    return near


def components(near: Sequence[int]) -> Iterator[int]:
    """Give the sets of units that hang together; their orders do not touch each other."""
    left = (1 << len(near)) - 1
    while left:
        found = left & -left
        grown = 0
        while grown != found:
            fresh = found & ~grown
            grown = found
            for i in members(fresh):
                found |= near[i]
        yield found
        left &= ~found


def least_open(near: Sequence[int], component: int) -> int:
    """
    Give a lower bound: units of a connected group that share bars with few others, merged step by step.

    The value is the pathwidth of the graph of units plus one, and no contraction raises it; a graph
    whose least degree is d needs d + 1 open units (contraction degeneracy, Bodlaender and Koster,
    2006, "least-c" rule).
    """
    around = {i: near[i] & component & ~(1 << i) for i in members(component)}
    bound = 1
    while around:
        i = min(around, key=lambda v: (around[v].bit_count(), v))
        bound = max(bound, around[i].bit_count() + 1)
        mine = around.pop(i)
        for v in members(mine):
            around[v] &= ~(1 << i)
        if mine:
            j = min(members(mine), key=lambda v: ((around[v] & mine).bit_count(), v))
            around[j] |= mine & ~(1 << j)
            for v in members(around[j]):
                around[v] |= 1 << j
    return bound
