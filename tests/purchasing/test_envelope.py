"""The lower convex envelope of a cost that jumps."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from nesting.purchasing.envelope import Envelope

PACKS = Envelope.of(0, [0, 50, 50, 50, 50, 50, 90, 90, 90, 90, 90])  # two packs of five, 10 then 8 a bar


def test_a_break_is_bridged() -> None:
    """(0, 0) to (10, 90) is one line of 9 a bar: the first pack at 50 lies above it."""
    assert PACKS.corners == (0, 10)
    assert PACKS.steps() == ((10, Fraction(9)),)
    assert PACKS.error(5) == 5


def test_the_range_is_divided_where_the_cost_jumps_most_above() -> None:
    """Above the line of 9 the jumps are 41 at one bar and 36 at six; the larger is taken."""
    assert PACKS.worst(7) == 1
    assert Envelope.of(6, [90, 90, 90, 90, 90]).worst(8) is None


@given(st.lists(st.integers(0, 30), min_size=1, max_size=12), st.integers(0, 5))
def test_the_envelope_is_convex_and_never_above(rises: list[int], low: int) -> None:
    """It touches the cost at both ends, lies below it everywhere, and its prices rise."""
    costs = [sum(rises[: i + 1]) for i in range(len(rises))]
    envelope = Envelope.of(low, costs)
    prices = [price for _, price in envelope.steps()]
    assert prices == sorted(prices)
    assert sum(bars for bars, _ in envelope.steps()) == len(costs) - 1
    assert all(envelope.error(low + i) >= 0 for i in range(len(costs)))
    assert envelope.error(low) == envelope.error(envelope.high) == 0
