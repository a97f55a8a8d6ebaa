"""The order in which ranges of bars are looked at."""

from __future__ import annotations

from nesting.purchasing.box import Box
from nesting.purchasing.ranges import Ranges


def box(bound: int) -> Box:
    return Box(lows=(0,), highs=(bound,), tiers=(0,), bound=bound)


def test_the_lowest_bound_comes_first_and_what_hangs_on_the_cutting_last() -> None:
    """One range that hangs on the cutting would take all the time in which the others find the best plan."""
    ranges = Ranges()
    ranges.hang(box(10))
    ranges.add(box(30))
    ranges.add(box(20))
    assert [ranges.next(100) for _ in range(3)] == [(box(20), False), (box(30), False), (box(10), True)]
    assert ranges.next(100) is None


def test_what_cannot_hold_less_is_not_looked_at() -> None:
    """A range whose bound is the best bill already is done, whatever it waits for."""
    ranges = Ranges()
    ranges.add(box(20))
    ranges.hang(box(20))
    assert ranges.next(20) is None


def test_every_range_that_is_not_done_counts_in_the_bound() -> None:
    """Also those that wait for others and those given up: a bound without them would claim too much."""
    ranges = Ranges()
    assert ranges.bound(50) == 50
    ranges.add(box(40))
    ranges.hang(box(30))
    assert ranges.bound(50) == 30
    ranges.give_up(box(25))
    assert ranges.bound(50) == 25
    ranges.clear()
    assert ranges.bound(50) == 50
