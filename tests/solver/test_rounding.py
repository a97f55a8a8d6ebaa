"""Dives from the linear programme, and plans filled bar by bar."""

from __future__ import annotations

from random import Random

import pytest

from nesting.solver import rounding
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


def test_many_patterns_are_fixed_at_one_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hundreds of bars fixed one by one would take hundreds of linear programmes."""

    def solves() -> int:
        asked = problem(dict.fromkeys(Random(2).sample(range(200, 500), 60), 1), 1000)
        parts = bench(asked, tiny=False)
        parts.master.solve(full=True)
        used = dive(parts.search, parts.master, parts.master.shares(), None, max_failures=0, max_solves=100)
        assert parts.search.worth.short == 0
        return used

    one_by_one = solves()
    monkeypatch.setattr(rounding, "FEW_PATTERNS", 0)
    monkeypatch.setattr(rounding, "PATTERNS_A_STEP", 1)
    assert solves() < one_by_one


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
