"""The inner loops, interpreted, against exhaustive search."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.solver import kernel


@st.composite
def knapsacks(draw: st.DrawFn) -> tuple[list[int], list[int], list[int], int]:
    n = draw(st.integers(1, 4))
    rows = [(draw(st.integers(1, 9)), draw(st.integers(1, 20)), draw(st.integers(0, 3))) for _ in range(n)]
    rows.sort(key=lambda row: -row[1] / row[0])
    sizes, values, limits = (list(column) for column in zip(*rows, strict=True))
    return sizes, values, limits, draw(st.integers(1, 25))


def fillings(sizes: list[int], limits: list[int], capacity: int) -> list[tuple[int, ...]]:
    every = product(*(range(n + 1) for n in limits))
    return [c for c in every if sum(s * n for s, n in zip(sizes, c, strict=True)) <= capacity]


@settings(max_examples=200, deadline=None)
@given(knapsacks())
def test_tree_finds_the_most_valuable_pattern(case: tuple[list[int], list[int], list[int], int]) -> None:
    """Bounds and proofs rest on this maximum being exact."""
    sizes, values, limits, capacity = case
    best = np.zeros(len(sizes), np.int64)
    top, ceiling, _ = kernel.price_tree(
        np.array(sizes), np.array(values, float), np.array(limits), capacity, 0.0, 0.5, 10**6, best
    )
    worths = [sum(v * n for v, n in zip(values, c, strict=True)) for c in fillings(sizes, limits, capacity)]
    assert top == max(worths)
    assert ceiling >= top
    assert sum(v * int(n) for v, n in zip(values, best, strict=True)) == top


def test_tree_that_gives_up_still_bounds_from_above() -> None:
    """After one leaf the relaxation stands: 7 of size 3 at density 2, so 14, while 2 x 6 was found."""
    best = np.zeros(2, np.int64)
    top, ceiling, nodes = kernel.price_tree(
        np.array([3, 4]), np.array([6.0, 7.0]), np.array([9, 9]), 7, 0.0, 0.5, 1, best
    )
    assert (top, ceiling, nodes) == (12.0, 14.0, 1)


@settings(max_examples=100, deadline=None)
@given(knapsacks())
def test_table_agrees_for_every_capacity(case: tuple[list[int], list[int], list[int], int]) -> None:
    """One table serves bars of all lengths."""
    sizes, values, limits, capacity = case
    owners = [i for i, n in enumerate(limits) for _ in range(n)]
    if not owners:
        return
    taken = np.empty((len(owners), capacity + 1), np.uint8)
    total = np.empty(capacity + 1)
    kernel.price_table(
        np.array([sizes[i] for i in owners]),
        np.array([float(values[i]) for i in owners]),
        np.ones(len(owners), np.int64),
        capacity,
        taken,
        total,
    )
    for c in range(capacity + 1):
        worths = [sum(v * n for v, n in zip(values, f, strict=True)) for f in fillings(sizes, limits, c)]
        assert total[c] == max(worths)


@settings(max_examples=100, deadline=None)
@given(knapsacks(), st.integers(0, 30))
def test_listing_finds_every_full_pattern_that_is_worth_enough(
    case: tuple[list[int], list[int], list[int], int], least: int
) -> None:
    """A closing search that missed a pattern would prove what is not so."""
    sizes, values, limits, capacity = case
    found = np.zeros((500, len(sizes)), np.int64)
    number = kernel.list_patterns(
        np.array(sizes), np.array(values, float), np.array(limits), capacity, float(least), 10**6, found
    )
    full = {
        c
        for c in fillings(sizes, limits, capacity)
        if sum(v * n for v, n in zip(values, c, strict=True)) >= least
        and not any(
            n < most and s <= capacity - sum(a * b for a, b in zip(sizes, c, strict=True))
            for s, n, most in zip(sizes, c, limits, strict=True)
        )
    }
    listed = [tuple(int(n) for n in row) for row in found[:number]]
    assert len(listed) == len(set(listed))
    assert set(listed) == full


def test_listing_says_when_there_are_too_many() -> None:
    """Room for one pattern, but 3 + 3 and 4 + 3 are both full."""
    found = np.zeros((1, 2), np.int64)
    arguments = np.array([4, 3]), np.array([4.0, 3.0]), np.array([1, 2]), 7
    assert kernel.list_patterns(*arguments, 0.0, 100, found) == -1
