"""A plan at once: longest piece first, each bar filled greedily, offcuts before new bars."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from nesting.solver.columns import Pattern, Pieces
from nesting.solver.reduce import Kind, Reduced
from nesting.solver.search import Plan

NEAR_KINDS = 4
"""Limited kinds tried for one bar: the smallest that hold its longest piece."""


def construct(reduced: Reduced, demands: Sequence[int], supplies: Sequence[int | None]) -> Plan:
    """
    Give a plan for ``demands`` in one pass; what no bar at hand holds is left out.

    The longest open piece opens the bar whose cost per size filled is least, and that bar takes
    the longest piece that still fits, and so on. A bar is repeated while the pieces and
    the bars last. On one unlimited kind this is first-fit decreasing, which needs at most 11/9 of
    the least number of bars plus 6/9 (Dosa, 2007, ESCAPE).

    Parameters
    ----------
    demands
        Pieces open, shape ``(m,)``.
    supplies
        Bars left of each kind, None for unlimited, shape ``(kinds,)``.
    """
    kinds = reduced.kinds
    open_ = list(demands)
    left = list(supplies)
    free = [k for k, kind in enumerate(kinds) if kind.supply is None]
    limited = sorted(
        (k for k, kind in enumerate(kinds) if kind.supply is not None and left[k]),
        key=lambda k: (kinds[k].capacity, kinds[k].cost),
    )
    plan: list[tuple[Pattern, int]] = []
    for i, size in enumerate(reduced.sizes):
        while open_[i]:
            begin = bisect_left(limited, size, key=lambda k: kinds[k].capacity)
            fits = [k for k in free if kinds[k].capacity >= size]
            fits += limited[begin : begin + NEAR_KINDS]
            if not fits:
                break
            fills = [(k, _fill(reduced, open_, i, kinds[k].capacity)) for k in fits]
            k, pieces = min(fills, key=lambda fill: _dearness(reduced, kinds[fill[0]], fill[1]))
            times = min(open_[j] // n for j, n in pieces)
            if (supply := left[k]) is not None:
                times = min(times, supply)
                left[k] = supply - times
                if supply == times:
                    limited.remove(k)
            for j, n in pieces:
                open_[j] -= n * times
            plan.append((Pattern(k, pieces), times))
    return tuple(plan)


def _fill(reduced: Reduced, open_: list[int], begin: int, capacity: int) -> Pieces:
    pieces = []
    room = capacity
    sizes = reduced.sizes
    smallest = sizes[-1]
    for j in range(begin, len(sizes)):
        if open_[j] and sizes[j] <= room:
            n = min(open_[j], room // sizes[j])
            pieces.append((j, n))
            room -= n * sizes[j]
            if room < smallest:
                break
    return tuple(pieces)


def _dearness(reduced: Reduced, kind: Kind, pieces: Pieces) -> tuple[float, int]:
    filled = sum(reduced.sizes[j] * n for j, n in pieces)
    return kind.cost / filled, kind.capacity - filled
