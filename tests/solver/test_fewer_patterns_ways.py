"""Ways to spread the pieces of a length."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nesting.solver.fewer_patterns_ways import MOST_BINS, MOST_WAYS, few_bins_first, few_ways_first, list_ways

Way = tuple[int, ...]


def listed(demand: int, size: int, y: list[int], room: int, most: int) -> list[Way] | None:
    """Give the ways of one length; None when there is none."""
    starts = np.zeros(2, np.int64)
    ways = np.zeros((MOST_WAYS, MOST_BINS), np.int64)
    bins = len(y)
    found = list_ways(
        1,
        np.array([demand], np.int64),
        np.array([size], np.int64),
        bins,
        np.array(y, np.int64),
        np.full(bins, room, np.int64),
        most,
        starts,
        ways,
    )
    return [tuple(way[:bins]) for way in ways[: starts[1]].tolist()] if found else None


@given(
    st.integers(1, 30),
    st.integers(1, 5),
    st.lists(st.integers(1, 6), min_size=1, max_size=3),
    st.integers(1, 8),
)
def test_all_ways_are_listed_once(demand: int, size: int, y: list[int], most: int) -> None:
    """Every a with sum(a y) = demand that a bar of 20 holds, found by trying all."""
    top = min(20 // size, most)
    right = {
        a
        for a in product(range(top + 1), repeat=len(y))
        if sum(n * t for n, t in zip(a, y, strict=True)) == demand
    }
    found = listed(demand, size, y, 20, most)
    assert set(found or []) == right
    assert len(found or []) == len(right)


def test_too_many_ways_are_none() -> None:
    """Five bins of one bar each and 60 pieces of size 1: C(64, 4) = 635 376 ways, far above the limit."""
    assert listed(60, 1, [1] * 5, 100, 100) is None


def test_lengths_with_few_ways_come_first_then_large_ones() -> None:
    """Ways 2, 1, 2, 1 and sizes 5, 6, 7, 8: those with one way first, each time the larger before."""
    order = np.zeros(4, np.int64)
    few_ways_first(4, np.array([5, 6, 7, 8]), np.array([0, 2, 3, 5, 6]), order)
    assert order.tolist() == [3, 1, 2, 0]


def test_ways_that_use_few_bins_come_first() -> None:
    """Each length is sorted within its own rows, equals as they were."""
    ways = np.array([[1, 1], [2, 0], [0, 2], [1, 1], [1, 0]])
    few_bins_first(2, 2, np.array([0, 3, 5]), ways)
    assert ways.tolist() == [[2, 0], [0, 2], [1, 1], [1, 0], [1, 1]]
