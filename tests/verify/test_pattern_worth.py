"""The auditor's pricing finds the best pattern, in numbers of any size, or says that it gave up."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.verify.pattern_worth import TooLarge, Work, worth_above


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
    found = worth_above(sizes, worths, counts, capacity, limit, Work(10**6))
    if true > limit:
        assert found is not None
        assert limit < found <= true
    else:
        assert found is None


def test_numbers_may_be_larger_than_any_machine_word() -> None:
    """Scaled duals and nanometres must never wrap around."""
    big = 10**30
    pieces = ([big, big + 1], [big, big + 2], [3, 3])
    # One of each fits exactly; two of the dearer are one unit too long.
    assert worth_above(*pieces, 2 * big + 1, 2 * big + 1, Work(100)) == 2 * big + 2
    assert worth_above(*pieces, 2 * big + 1, 2 * big + 2, Work(100)) is None


def test_gives_up_in_words_not_in_hours() -> None:
    """A proof that cannot be checked in time has to say so."""
    sizes = [2**i for i in range(40)]
    with pytest.raises(TooLarge):
        worth_above(sizes, [s + s % 7 for s in sizes], [1] * 40, 2**39, 2**38, Work(1000))
