"""Tests of nesting.verify.dearest."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.verify.dearest import TooLarge, Work, dearest_above


def brute_force(sizes: list[int], worths: list[int], counts: list[int], capacity: int) -> int:
    """Look at every pattern."""
    fitting = (
        sum(n * w for n, w in zip(pattern, worths, strict=True))
        for pattern in product(*(range(c + 1) for c in counts))
        if sum(n * s for n, s in zip(pattern, sizes, strict=True)) <= capacity
    )
    return max(fitting)


@given(
    st.lists(st.tuples(st.integers(1, 20), st.integers(0, 30), st.integers(1, 3)), max_size=5),
    st.integers(0, 60),
    st.integers(-1, 100),
)
def test_agrees_with_every_pattern_tried(
    pieces: list[tuple[int, int, int]], capacity: int, limit: int
) -> None:
    """The whole proof stands on this one maximum."""
    sizes, worths, counts = ([p[i] for p in pieces] for i in range(3))
    true = brute_force(sizes, worths, counts, capacity)
    found = dearest_above(sizes, worths, counts, capacity, limit, Work(10**6))
    assert found == (true if true > limit else None)


def test_numbers_may_be_larger_than_any_machine_word() -> None:
    """Scaled duals and nanometres must never wrap around."""
    big = 10**30
    assert dearest_above([big, big + 1], [big, big + 2], [3, 3], 2 * big + 1, 0, Work(100)) == 2 * big + 2


def test_gives_up_in_words_not_in_hours() -> None:
    """A proof that cannot be checked in time has to say so."""
    sizes = [2**i for i in range(40)]
    with pytest.raises(TooLarge):
        dearest_above(sizes, [s + s % 7 for s in sizes], [1] * 40, 2**39, 2**38, Work(1000))
