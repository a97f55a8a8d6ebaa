"""Dives from the linear programme, and plans filled bar by bar."""

from __future__ import annotations

from random import Random

from nesting.solver.columns import Pattern
from nesting.solver.fill import fill_bar_by_bar
from nesting.solver.rounding import Rest, dive, merge
from tests.solver.bench import bench
from tests.solver.replay import problem

# Hard for first fit: it needs one bar more than the 10 that are enough
TRIPLETS = {47: 3, 45: 3, 44: 4, 31: 4, 30: 3, 29: 3, 25: 4, 24: 3, 23: 3}


def test_dive_reaches_the_linear_bound() -> None:
    """2 x 938 ... the classic: 453 bars, from a linear value of 452.25."""
    parts = bench(problem({45: 97, 36: 610, 31: 395, 14: 211}, 100))
    parts.master.solve()
    shares = parts.master.shares()
    solves = dive(parts.search, parts.master, shares, Random(1), max_failures=6, max_solves=100)
    assert solves <= 100
    assert parts.search.worth.cost == 453


def test_dive_keeps_to_its_limit() -> None:
    """A dive is one of many; it may not run away."""
    parts = bench(problem(TRIPLETS, 100))
    parts.master.solve()
    shares = parts.master.shares()
    assert dive(parts.search, parts.master, shares, None, max_failures=10**6, max_solves=3) <= 3


def test_filling_bar_by_bar_places_every_piece() -> None:
    """The plan it offers is complete and no worse than the one it started from."""
    parts = bench(problem(TRIPLETS, 100))
    before = parts.search.worth.cost
    fill_bar_by_bar(parts.search, parts.pricer, plans=5, seed=0)
    assert parts.search.worth.short == 0
    assert parts.search.worth.cost <= before


def test_rest_counts_what_is_left() -> None:
    """Fixing 2 x (1, 1) of (3, 2) leaves (1, 0)."""
    parts = bench(problem({60: 3, 40: 2}, 100))
    rest = Rest.all_of(parts.reduced)
    pattern = Pattern(0, ((0, 1), (1, 1)))
    assert rest.room_for(pattern) == 2
    copy = rest.copy()
    rest.fix(parts.reduced, pattern, 2)
    assert (rest.demands, rest.spent, rest.empty) == ([1, 0], 2, False)
    assert copy.demands == [3, 2]
    assert rest.room_for(pattern) == 0


def test_equal_patterns_are_joined() -> None:
    """One line a pattern on the cut list."""
    one, other = Pattern(0, ((0, 1),)), Pattern(0, ((1, 1),))
    assert merge([(one, 2), (other, 1), (one, 3)]) == ((one, 5), (other, 1))
