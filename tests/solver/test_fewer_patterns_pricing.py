"""Pricing of whole runs."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.solver.fewer_patterns_pricing import price_runs

ROOM = 12


@settings(max_examples=80, deadline=None)
@given(
    lengths=st.lists(
        st.tuples(st.integers(2, 8), st.integers(1, 6), st.integers(-2, 9)), min_size=1, max_size=3
    ),
    fewest=st.integers(0, 6),
    slack=st.integers(0, 20),
    waste=st.integers(0, 12),
)
def test_the_best_run_of_every_number_of_bars_is_found(
    lengths: list[tuple[int, int, int]], fewest: int, slack: int, waste: int
) -> None:
    """Every pattern that t bars can take from the demand is tried beside it, for t = 1..3."""
    sizes, demand, worths = (np.array(part, np.int64) for part in zip(*lengths, strict=True))
    duals = worths.astype(float)
    longest, m = 3, len(sizes)
    runs, values = np.zeros((longest + 1, m), np.int64), np.zeros(longest + 1)
    price_runs(sizes, demand, duals, -1.0, ROOM, fewest, slack, waste, 99, 99, longest, runs, values)
    for t in range(1, longest + 1):
        least = max(1, fewest, ROOM - min(waste, slack // t))
        right = [
            t * (float(np.dot(a, duals)) - 1.0)
            for a in product(*(range(n // t + 1) for n in demand))
            if least <= np.dot(a, sizes) <= ROOM
        ]
        assert values[t] == max(right, default=-np.inf)
        if right:
            assert t * (runs[t] @ duals - 1.0) == values[t]


def test_a_pattern_beyond_the_limits_is_none() -> None:
    """The best of all, 4 + 4 + 4, has three pieces; where two are the most, the run counts as not found."""
    runs, values = np.zeros((2, 1), np.int64), np.zeros(2)
    for most, value in ((3, 3.0), (2, -np.inf)):
        price_runs(np.array([4]), np.array([3]), np.ones(1), 0.0, ROOM, 0, 0, 0, most, 9, 1, runs, values)
        assert values[1] == value
