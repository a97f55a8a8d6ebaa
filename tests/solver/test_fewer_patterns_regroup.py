"""Regrouping by exact search."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.solver.fewer_patterns_regroup import regroup
from nesting.solver.fewer_patterns_ways import MOST_BINS, MOST_WAYS
from nesting.solver.kernel import Ints


def regrouped(
    demand: list[int],
    sizes: list[int],
    y: list[int],
    room: int,
    *,
    fewest: int = 0,
    most_pieces: int = 99,
    most_lengths: int = 99,
    grain: int = 1,
    lean: bool = False,
    max_nodes: int = 100_000,
) -> Ints | None:
    """Give the pieces of each bin; None when no way is found."""
    n, bins = len(sizes), len(y)
    out = np.zeros((bins, n), np.int64)
    found = regroup(
        n,
        np.array(demand, np.int64),
        np.array(sizes, np.int64),
        bins,
        np.array(y, np.int64),
        np.full(bins, room, np.int64),
        np.full(bins, fewest, np.int64),
        sum(y) * room - sum(d * s for d, s in zip(demand, sizes, strict=True)),
        grain,
        most_pieces,
        most_lengths,
        lean,
        max_nodes,
        np.array([11], np.int64),
        np.zeros(n + 1, np.int64),
        np.zeros((MOST_WAYS, MOST_BINS), np.int64),
        np.zeros((MOST_BINS, n + 1, room // 64 + 1), np.uint64),
        out,
    )
    return out if found else None


def can(demand: list[int], sizes: list[int], y: list[int], room: int) -> bool:
    """Tell whether any spread exists, by trying all."""
    spreads = [
        [
            a
            for a in product(range(d + 1), repeat=len(y))
            if sum(n * t for n, t in zip(a, y, strict=True)) == d
        ]
        for d in demand
    ]
    return any(
        all(sum(a[j] * s for a, s in zip(some, sizes, strict=True)) <= room for j in range(len(y)))
        for some in product(*spreads)
    )


@pytest.mark.parametrize("grain", [1, 3])
@pytest.mark.parametrize("lean", [False, True])
@settings(max_examples=60, deadline=None)
@given(
    lengths=st.lists(st.tuples(st.integers(1, 6), st.integers(2, 9)), min_size=1, max_size=3),
    y=st.lists(st.integers(1, 3), min_size=1, max_size=3),
    room=st.integers(9, 20),
)
def test_a_spread_is_found_exactly_where_there_is_one(
    grain: int, lean: bool, lengths: list[tuple[int, int]], y: list[int], room: int
) -> None:
    """All demand is spread, and no bar is overfilled; a coarse table of sums misses nothing either."""
    demand, sizes = [d for d, _ in lengths], [s for _, s in lengths]
    out = regrouped(demand, sizes, y, room, grain=grain, lean=lean)
    assert (out is not None) == can(demand, sizes, y, room)
    if out is not None:
        assert (np.array(y) @ out).tolist() == demand
        assert (out @ np.array(sizes)).max() <= room


@pytest.mark.parametrize(
    "limits", [{}, {"most_pieces": 2}, {"most_lengths": 1}, {"fewest": 11}, {"max_nodes": 1}]
)
def test_limits_of_a_bar_and_of_the_search_hold(limits: dict[str, int]) -> None:
    """Twice 6 and four times 1 on two bars of 12 is 6 + 1 + 1 twice, unless one of the limits forbids it."""
    out = regrouped([2, 4], [6, 1], [2], 12, **limits)  # type: ignore[arg-type]
    assert (out is None) == bool(limits)
