"""Dives from the linear programme, and plans filled bar by bar."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from nesting.solver import rounding
from nesting.solver.columns import Pattern
from nesting.solver.fill import fill_bar_by_bar
from nesting.solver.params import RoundParams
from nesting.solver.rounding import Dives, Rest, dive, merge, take_back
from tests.solver.bench import bench
from tests.solver.replay import problem

# Hard for first fit: it needs one bar more than the 10 that are enough
TRIPLETS = {47: 3, 45: 3, 44: 4, 31: 4, 30: 3, 29: 3, 25: 4, 24: 3, 23: 3}


def test_dive_reaches_the_linear_bound() -> None:
    """2 x 938 ... the classic: 453 bars, from a linear value of 452.25."""
    parts = bench(problem({45: 97, 36: 610, 31: 395, 14: 211}, 100))
    parts.master.solve()
    shares = parts.master.shares()
    solves, _ = dive(parts.search, parts.master, shares, Random(1), max_failures=6, max_solves=100)
    assert solves <= 100
    assert parts.search.worth.cost == 453


def test_dive_keeps_to_its_limit() -> None:
    """A dive is one of many; it may not run away."""
    parts = bench(problem(TRIPLETS, 100))
    parts.master.solve()
    shares = parts.master.shares()
    solves, _ = dive(parts.search, parts.master, shares, None, max_failures=10**6, max_solves=3)
    assert solves <= 3


def test_bars_taken_back_are_open_again() -> None:
    """What is fixed and what is open together are always the whole demand, and money is conserved."""
    parts = bench(problem(TRIPLETS, 100))
    parts.master.solve()
    reduced = parts.search.reduced
    _, end = dive(parts.search, parts.master, parts.master.shares(), None, max_failures=0, max_solves=100)
    rest = take_back(reduced, end, Random(3), 0.5)
    fixed = [0] * len(reduced.demands)
    for pattern, times in rest.fixed:
        for i, n in pattern.pieces:
            fixed[i] += n * times
    assert [a + b for a, b in zip(fixed, rest.demands, strict=True)] == list(reduced.demands)
    assert rest.spent == sum(reduced.kinds[p.kind].cost * times for p, times in rest.fixed)
    assert take_back(reduced, end, Random(3), 1.0).fixed == []
    assert sum(t for _, t in take_back(reduced, end, Random(3), 0.0).fixed) == sum(t for _, t in end.fixed)


def test_a_repair_finds_what_dives_from_one_solution_miss() -> None:
    """
    72 pieces made by breaking 24 bars with no waste, so that every bar must be full.

    Repairs alone may follow the first dive here, and they settle it.
    """
    draw = Random(5)
    pieces: Counter[int] = Counter()
    for _ in range(24):
        first = draw.randrange(380, 470)
        second = draw.randrange(250, 330)
        pieces.update((first, second, 1000 - first - second))
    parts = bench(problem(dict(pieces), 1000), tiny=False)
    parts.master.solve()
    Dives(parts.search, parts.master, 0, RoundParams(failures=0, afresh=10**9)).run(3_000)
    assert parts.search.worth.cost == 24


def test_dives_repeat_with_their_seed() -> None:
    """Same seed, same plan, however often they repair."""

    def plan() -> object:
        parts = bench(problem(TRIPLETS, 100))
        parts.master.solve()
        Dives(parts.search, parts.master, 7, RoundParams(failures=0)).run(200)
        return parts.search.plan

    assert plan() == plan()


def test_many_patterns_are_fixed_at_one_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hundreds of bars fixed one by one would take hundreds of linear programmes."""

    def solves() -> int:
        asked = problem(dict.fromkeys(Random(2).sample(range(200, 500), 60), 1), 1000)
        parts = bench(asked, tiny=False)
        parts.master.solve(full=True)
        used, _ = dive(
            parts.search, parts.master, parts.master.shares(), None, max_failures=0, max_solves=100
        )
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
