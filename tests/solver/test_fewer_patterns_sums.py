"""Sets of sums as bits."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nesting.solver.fewer_patterns_sums import Words, fill_reach, highest, or_shifted

SETS = st.sets(st.integers(0, 255))


def words(bits: set[int]) -> Words:
    """Give a set of numbers below 256 as four words."""
    whole = sum(1 << bit for bit in bits)
    return np.array([whole >> 64 * k & (1 << 64) - 1 for k in range(4)], np.uint64)


def members(some: Words) -> set[int]:
    """Give the numbers in some words."""
    return {64 * k + bit for k, word in enumerate(some.tolist()) for bit in range(64) if word >> bit & 1}


@given(SETS, st.integers(0, 255), st.integers(-300, 255))
def test_the_highest_of_a_range_is_found(bits: set[int], at_most: int, at_least: int) -> None:
    """Across words, and with nothing in the range at all."""
    inside = [bit for bit in bits if at_least <= bit <= at_most]
    assert highest(words(bits), at_most, at_least) == max(inside, default=-1)


@given(SETS, SETS, st.integers(0, 255))
def test_a_set_is_joined_with_one_moved_up(into: set[int], bits: set[int], shift: int) -> None:
    """What is moved beyond the last word falls away."""
    held = words(into)
    or_shifted(held, words(bits), shift, 4)
    assert members(held) == into | {bit + shift for bit in bits if bit + shift < 256}


@given(
    st.lists(st.tuples(st.integers(1, 40), st.sets(st.integers(0, 3), min_size=1)), min_size=1, max_size=4)
)
def test_reach_holds_every_sum_of_the_lengths_to_come(lengths: list[tuple[int, set[int]]]) -> None:
    """All choices of pieces tried beside it; the order is the reverse of the lengths' own."""
    n, top = len(lengths), 255
    starts = np.cumsum([0, *(len(some) for _, some in lengths)])
    ways = np.array([[9, a] for _, some in lengths for a in sorted(some)], np.int64)
    order = np.arange(n)[::-1].copy()
    sizes = np.array([size for size, _ in lengths], np.int64)
    reach = np.full((n + 1, 4), 77, np.uint64)
    fill_reach(n, order, starts, ways, 1, sizes, 1, top, reach)
    for d in range(n + 1):
        rest = [lengths[i] for i in order[d:]]
        sums = {
            sum(a * size for a, (size, _) in zip(some, rest, strict=True))
            for some in product(*(s for _, s in rest))
        }
        assert members(reach[d]) == {one for one in sums if one <= top}


def test_coarse_sums_count_in_grains_rounded_down() -> None:
    """Two pieces of 25 in grains of 10 are 2 x 2, not 5."""
    reach = np.zeros((2, 1), np.uint64)
    fill_reach(1, np.zeros(1, np.int64), np.array([0, 1]), np.array([[2]]), 0, np.array([25]), 10, 6, reach)
    assert members(reach[0]) == {4}
