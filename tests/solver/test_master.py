"""The linear programme: published values, limited supply, other right-hand sides."""

from __future__ import annotations

import pytest

from nesting.domain.problem import BarKind
from nesting.solver.master import round_up
from nesting.units import Length
from tests.solver.bench import bench
from tests.solver.replay import problem


@pytest.mark.parametrize(
    ("bar", "pieces", "value"),
    [
        # Chvatal, Linear Programming (1983), pp. 195-200
        (100, {45: 97, 36: 610, 31: 395, 14: 211}, 452.25),
        # Fourer, Gay & Kernighan, AMPL (book)
        (110, {75: 8, 55: 10, 50: 24, 45: 35, 20: 48}, 46.25),
        # Taha, Operations Research (from memory)
        (20, {9: 300, 7: 200, 5: 150}, 262.5),
        # Fieldhouse: 2.2 with patterns that hold no more than is asked for, 59/30 without
        (30, {15: 1, 10: 2, 6: 4}, 2.2),
    ],
)
def test_published_values_are_reached(bar: int, pieces: dict[int, int], value: float) -> None:
    """The bound's strength is that of the literature's programme."""
    parts = bench(problem(pieces, bar))
    assert parts.master.solve(full=True)
    assert parts.master.value == pytest.approx(value, abs=1e-6)
    assert parts.master.duals.bound == pytest.approx(value, abs=1e-6)


def test_limited_supply_has_its_price() -> None:
    """Two bars of 10 at cost 1 hold 4 of 6 pieces of 5; a bar of 9 at cost 2 holds 1: 2 x 1 + 2 x 2."""
    bars = [
        BarKind(key="cheap", length=Length(10), cost=1, count=2),
        BarKind(key="dear", length=Length(9), cost=2),
    ]
    parts = bench(problem({5: 6}, bars))
    parts.master.solve(full=True)
    assert parts.master.value == pytest.approx(6.0)
    # one bar more would save 2 x 2 - 1
    assert parts.master.duals.supplies[0] == pytest.approx(3.0)


def test_a_new_right_hand_side_gives_what_a_fresh_start_gives() -> None:
    """Dives move on from basis to basis; none may drift from the truth."""
    pieces = {45: 97, 36: 610, 31: 395, 14: 211}
    moved = bench(problem(pieces, 100))
    moved.master.solve(full=True)
    for demands in ((90, 600, 390, 200), (90, 0, 390, 200), (1, 2, 0, 3), (97, 610, 395, 211)):
        moved.master.start(demands, moved.supplies)
        moved.master.solve(full=True)
        fresh = bench(problem(pieces, 100))
        fresh.master.start(demands, fresh.supplies)
        fresh.master.solve(full=True)
        assert moved.master.value == pytest.approx(fresh.master.value, abs=1e-6)


def test_gives_up_as_soon_as_there_is_no_hope() -> None:
    """453 bars are needed; a dive that has room for 400 only must not go on."""
    parts = bench(problem({45: 97, 36: 610, 31: 395, 14: 211}, 100))
    assert not parts.master.solve(hopeless=400)


def test_levels_cover_what_is_asked() -> None:
    """Rounding starts from them."""
    parts = bench(problem({45: 97, 36: 610, 31: 395, 14: 211}, 100))
    parts.master.solve(full=True)
    made = [0.0] * 4
    for share in parts.master.shares():
        for i, n in share.pattern.pieces:
            made[i] += n * share.level
    assert all(m >= n - 1e-6 for m, n in zip(made, parts.reduced.demands, strict=True))


def test_rounding_up_forgives_rounding_errors_only() -> None:
    """73.0000000001 is 73, 73.001 is not."""
    assert round_up(73.0000000001) == 73
    assert round_up(73.001) == 74
