"""The wide linear programme: HiGHS must say what our own simplex says."""

from __future__ import annotations

from collections.abc import Callable

import highspy
import numpy as np
import pytest

from nesting.solver.columns import Pattern, Pool
from nesting.solver.engine import Engine
from nesting.solver.simplex import WIDE_SHIFTS, Simplex
from nesting.solver.sparse_simplex import SparseSimplex

ROWS = 12


def _programme(seed: int) -> tuple[Pool, list[int]]:
    """Twelve lengths, a bar for one piece of each, thirty random patterns and a surplus of each row."""
    draw = np.random.default_rng(seed)
    pool = Pool()
    first = [pool.add(Pattern(0, ((i, 1),)), ((i, 1),), 1.0) for i in range(ROWS)]
    for i in range(ROWS):
        pool.add(None, ((i, -1),), 0.0)
    for _ in range(30):
        rows = sorted(int(i) for i in draw.choice(ROWS, 3, replace=False))
        pieces = tuple((i, int(draw.integers(1, 4))) for i in rows)
        pool.add(Pattern(0, pieces), pieces, 1.0)
    return pool, first


def _both(seed: int, poll: Callable[[], None] = lambda: None) -> tuple[Simplex, SparseSimplex, Pool]:
    pool, first = _programme(seed)
    engine = Engine(tiny=True)
    return (
        Simplex(pool, first, engine, poll, seed=1),
        SparseSimplex(pool, first, engine, poll, seed=1, rows=4),
        pool,
    )


@pytest.mark.parametrize("seed", range(4))
def test_value_and_levels_agree_with_the_dense_one(seed: int) -> None:
    """Which engine is used is a matter of speed alone."""
    dense, sparse, pool = _both(seed)
    right = np.random.default_rng(seed).integers(1, 9, ROWS).astype(np.float64)
    for one in (dense, sparse):
        one.start(right)
        one.optimise()
    assert sparse.value == pytest.approx(dense.value)
    made = np.zeros(ROWS)
    for column, level in sparse.levels():
        part = slice(int(pool.starts[column]), int(pool.starts[column + 1]))
        made[pool.rows[part]] += level * pool.entries[part]
    assert made == pytest.approx(right)
    assert sum(pool.costs[column] * level for column, level in sparse.levels()) == pytest.approx(dense.value)


def test_a_smaller_right_hand_side_and_new_columns_are_followed() -> None:
    """A dive shrinks the right-hand side and adds patterns; old levels must not linger."""
    dense, sparse, pool = _both(7)
    for one in (dense, sparse):
        one.start(np.full(ROWS, 6.0))
        one.optimise()
    pool.add(Pattern(0, tuple((i, 1) for i in range(6))), tuple((i, 1) for i in range(6)), 1.0)
    rest = np.array([4.0] * 11 + [0.0])
    for one in (dense, sparse):
        one.start(rest)
        one.optimise()
    assert sparse.value == pytest.approx(dense.value)
    assert sparse.duals[-1] == 0.0
    # A column that takes more of a row than is open is barred, however cheap it would be.
    for one in (dense, sparse):
        one.start(np.ones(ROWS))
        one.optimise()
    assert sparse.value == pytest.approx(dense.value)


def test_few_open_rows_go_to_the_dense_one() -> None:
    """Towards the end of a dive the sparse engine's overhead would cost more than it saves."""
    dense, sparse, _ = _both(3)
    rest = np.array([3.0, 2.0, 1.0] + [0.0] * 9)
    for one in (dense, sparse):
        one.start(rest)
        one.optimise()
    assert sparse.value == pytest.approx(dense.value)
    assert dict(sparse.levels()) == pytest.approx(dict(dense.levels()))
    assert sparse.duals == pytest.approx(dense.duals)


def test_wide_shifts_leave_the_value_a_bound() -> None:
    """Other duals are asked for by larger shifts; they are a little worse at most, never better."""
    dense, sparse, _ = _both(5)
    right = np.full(ROWS, 5.0)
    dense.start(right)
    dense.optimise()
    sparse.forget()
    sparse.shift = WIDE_SHIFTS[0]
    sparse.start(right)
    sparse.optimise()
    assert dense.value * 0.98 <= sparse.value <= dense.value + 1e-6


def test_a_stop_is_heard_between_the_pivots() -> None:
    """One wide programme may take seconds; the limit must not wait for it."""
    heard = []
    _, sparse, _ = _both(1, poll=lambda: heard.append(True))
    sparse.start(np.full(ROWS, 5.0))
    sparse.optimise()
    assert heard


def test_an_engine_that_refuses_is_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever else uses HiGHS in a process may have set it up in a way it then insists on."""
    dense, sparse, _ = _both(2)
    right = np.full(ROWS, 5.0)
    dense.start(right)
    dense.optimise()
    sparse.start(right)
    monkeypatch.setattr(highspy.Highs, "run", lambda _: None)
    sparse.optimise()
    assert sparse.value == pytest.approx(dense.value)
