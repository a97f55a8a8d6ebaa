"""Which units share a bar."""

from __future__ import annotations

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.planning.open_units import most_open
from nesting.planning.shared_bars import components, least_open, members, neighbours

BARS = st.lists(st.integers(1, 63), min_size=1, max_size=6)


@given(st.sets(st.integers(0, 200)))
def test_members_are_the_bits_in_order(units: set[int]) -> None:
    """A set goes into a number and comes out again, lowest first."""
    assert list(members(sum(1 << unit for unit in units))) == sorted(units)


def test_neighbours_share_a_bar() -> None:
    """Bars of units 0 + 1 and 1 + 2: unit 1 has both as neighbours, unit 3 only itself."""
    assert neighbours(4, [0b011, 0b110]) == [0b0011, 0b0111, 0b0110, 0b1000]


def test_components_hang_together() -> None:
    """Units 0-1-2 over two bars, 3 alone, 4-5 over one: three sets that part all units."""
    near = neighbours(6, [0b000011, 0b000110, 0b110000])
    assert list(components(near)) == [0b000111, 0b001000, 0b110000]


@settings(max_examples=80, deadline=None)
@given(bars=BARS)
def test_no_order_has_fewer_open_than_the_bound(bars: list[int]) -> None:
    """All orders of up to six bars are tried beside it."""
    named = [{str(unit) for unit in members(bar)} for bar in bars]
    best = min(most_open(order) for order in permutations(named))
    near = neighbours(6, bars)
    assert max(least_open(near, component) for component in components(near)) <= best


def test_units_that_all_share_bars_are_open_together() -> None:
    """Four units, a bar for each pair: each has three neighbours, so all four are open at once."""
    bars = [1 << i | 1 << j for i in range(4) for j in range(i)]
    assert least_open(neighbours(4, bars), 0b1111) == 4
