"""The order in which units are closed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.planning.closing_order import ClosingSearch
from nesting.planning.shared_bars import components, members, neighbours

BARS = st.lists(st.sets(st.integers(0, 6), min_size=1, max_size=3), min_size=1, max_size=9)


def near_of(bars: Sequence[set[int]]) -> list[int]:
    """Give the neighbours of seven units."""
    return neighbours(7, [sum(1 << unit for unit in bar) for bar in bars])


def most(near: Sequence[int], order: Sequence[int]) -> int:
    """Count the units open at once: closing one opens all its neighbours; closed ones count no more."""
    opened: set[int] = set()
    count = []
    for number, unit in enumerate(order):
        opened |= set(members(near[unit]))
        count.append(len(opened) - number)
    return max(count)


@settings(max_examples=60, deadline=None)
@given(BARS)
def test_no_other_order_closes_with_fewer_open(bars: list[set[int]]) -> None:
    """Every order of the units of each component is tried beside it."""
    near = near_of(bars)
    for component in components(near):
        units = list(members(component))
        search = ClosingSearch(near, component, 200_000)
        search.run()
        assert sorted(search.best) == units
        least = min(most(near, order) for order in permutations(units))
        assert most(near, search.best) == search.bound == least


def test_a_search_without_steps_keeps_its_greedy_order() -> None:
    """Its bound is then only what follows from the neighbours, but it is still true."""
    # A wheel: unit 6 shares a bar with each of a ring of six, so four are open at once at least.
    bars = [{i, (i + 1) % 6} for i in range(6)] + [{i, 6} for i in range(6)]
    near = near_of(bars)
    (component,) = components(near)
    short, full = ClosingSearch(near, component, 0), ClosingSearch(near, component, 200_000)
    short.run()
    full.run()
    assert sorted(short.best) == list(range(7))
    assert short.bound <= full.bound == most(near, full.best) <= most(near, short.best)
    assert full.bound == 4
