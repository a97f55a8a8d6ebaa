"""A basis over the pool: started, moved on to a new right-hand side, pivoted to its optimum."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.solver.columns import Pool
from nesting.solver.engine import Engine
from nesting.solver.kernel import Floats

TOLERANCE = 1e-9
SHIFT = 1e-6
"""Each row's right-hand side is moved by about so much, each by another amount: no ties, no cycles."""
WIDE_SHIFTS = (1e-2, 1e-3, 1e-2, 3e-2, 1e-2, 3e-2, 1e-1)
"""Shifts that lead to other duals: as good ones, or ones hardly worse that bar other columns."""
ACCURACY = 1e-9
"""Relative error of a basic column's price at which the inverse is computed afresh."""
PIVOTS_PER_CALL = 100
PIVOTS_PER_CHECK = 500
WORTH_WARM = 0.7
"""Share of the rows that must still be open for a warm start to beat a start on those rows alone."""


class Simplex:
    """
    Least cost of the pool's columns at a right-hand side.

    Rows that are closed (right-hand side 0) are left out of the arithmetic, and columns that take more
    than a row's right-hand side in one unit are barred: no whole plan can use them.

    Parameters
    ----------
    pool
        Columns; it may grow.
    first
        For each row the number of a column that can stand in the basis for it alone.
    poll
        Called often.
    """

    def __init__(
        self, pool: Pool, first: Sequence[int], engine: Engine, poll: Callable[[], None], seed: int
    ) -> None:
        self._pool = pool
        self._first = np.array(first, np.int64)
        self._engine = engine
        self._poll = poll
        self._draw = np.random.default_rng(seed)
        self._height = len(first)
        self._optimal = False
        self.shift = SHIFT
        self._open = np.zeros(0, np.int64)
        self.right = np.zeros(self._height)

    def forget(self) -> None:
        """Make the next start a cold one."""
        self._optimal = False

    def start(self, right: Floats) -> None:
        """Set the right-hand side, shape ``(rows,)``; keep the basis when that is likely to pay."""
        open_ = np.flatnonzero(right > 0)
        warm = (
            self._optimal
            and len(open_) > WORTH_WARM * len(self._open)
            and bool(np.isin(open_, self._open).all())
        )
        self.right = right
        if warm:
            self._shifted = self._shift(right[self._open])
            self._bar_all()
            if self._move_on():
                return
        self._start_cold(open_)

    def _shift(self, right: Floats) -> Floats:
        # A closed row is shifted downwards: its surplus then stands in the basis, not a barred column.
        return right + np.where(right > 0, self.shift, -self.shift) * (1.0 + self._draw.random(len(right)))

    def _start_cold(self, open_: NDArray[np.int64]) -> None:
        self._open = open_
        self._place = np.full(self._height, -1, np.int64)
        self._place[open_] = np.arange(len(open_))
        self._shifted = self._shift(self.right[open_])
        self._basis = self._first[open_].copy()
        self._rows = np.zeros(0, np.int64)
        self._bar_all()
        self._state[self._basis] = 1
        self._inverse = self._inverted_diagonal()
        self._refresh()
        self._optimal = False

    def _bar_all(self) -> None:
        self._state = np.zeros(0, np.int8)
        self._follow_pool()

    def _follow_pool(self) -> None:
        """Take up the columns that the pool has gained: 2 for those that hold more than is open."""
        pool = self._pool
        begin = len(self._state)
        ends = pool.starts[begin : len(pool) + 1]
        part = slice(int(ends[0]), int(ends[-1]))
        self._rows = np.maximum(self._place[pool.rows[: ends[-1]]], 0)
        if len(ends) == 1:
            return
        rows = pool.rows[part]
        # A surplus of a row that is left out has nothing to stand on either.
        bad = (pool.entries[part] > self.right[rows] + TOLERANCE) | (self._place[rows] < 0)
        barred = np.logical_or.reduceat(bad, ends[:-1] - ends[0])
        self._state = np.concatenate([self._state, np.where(barred, 2, 0).astype(np.int8)])

    def _move_on(self) -> bool:
        """Repair an optimal basis for the new right-hand side; False when it cannot be."""
        barred = self._state[self._basis] == 2
        self._state[self._basis] = np.where(barred, 3, 1)
        self._level = np.einsum("ij,j->i", self._inverse, self._shifted)
        limit = 3 * len(self._basis) + 100
        while limit > 0:
            pivots = self._engine.dual_simplex(*self._arrays(), PIVOTS_PER_CALL)
            if pivots < 0:
                return False
            self._since += pivots
            if pivots < PIVOTS_PER_CALL:
                np.maximum(self._level, 0.0, out=self._level)
                return True
            limit -= pivots
            self._poll()
        return False

    def _arrays(self) -> tuple[object, ...]:
        pool = self._pool
        return (
            self._inverse, self._basis, self._level, self._duals, pool.starts, self._rows,
            pool.entries, pool.costs, self._state, len(pool),
        )  # fmt: skip

    def _refresh(self) -> None:
        """Recompute levels and duals, and the inverse where it has lost its accuracy."""
        pool = self._pool
        for _ in range(2):
            # einsum stays on this thread; the usual product would wake all cores for a millisecond's work.
            self._level = np.einsum("ij,j->i", self._inverse, self._shifted)
            self._duals = np.einsum("i,ij->j", pool.costs[self._basis], self._inverse)
            self._since = 0
            error = 0.0
            for column in self._basis:
                part = slice(int(pool.starts[column]), int(pool.starts[column + 1]))
                price = float(self._duals[self._rows[part]] @ pool.entries[part])
                error = max(error, abs(price - pool.costs[column]) / (1.0 + pool.costs[column]))
            if error < ACCURACY:
                break
            try:
                self._inverse = self._inverted()
            except np.linalg.LinAlgError:
                # Pivots on rounding errors have led to columns that depend on each other: begin again.
                self._start_cold(self._open)
                return
        np.maximum(self._level, 0.0, out=self._level)

    def _inverted_diagonal(self) -> Floats:
        firsts = self._pool.starts[self._basis]
        return np.diag(1.0 / self._pool.entries[firsts])

    def _inverted(self) -> Floats:
        pool = self._pool
        basis = np.zeros((len(self._open), len(self._open)))
        for place, column in enumerate(self._basis):
            part = slice(int(pool.starts[column]), int(pool.starts[column + 1]))
            basis[self._rows[part], place] = pool.entries[part]
        return np.ascontiguousarray(np.linalg.inv(basis))

    def optimise(self) -> None:
        """Pivot until no column of the pool improves the basis."""
        self._follow_pool()
        # A thousand calls without an end would mean cycling; the bound does not depend on the end.
        for _ in range(1000):
            pivots = self._engine.primal_simplex(*self._arrays(), PIVOTS_PER_CALL, TOLERANCE)
            self._since += max(pivots, 0)
            if pivots < 0 or self._since > PIVOTS_PER_CHECK:
                self._refresh()
            elif pivots < PIVOTS_PER_CALL:
                break
            self._poll()
        self._optimal = True

    @property
    def duals(self) -> Floats:
        """Duals of all rows, zero where a row is left out, shape ``(rows,)``."""
        duals = np.zeros(self._height)
        duals[self._open] = self._duals
        return duals

    @property
    def value(self) -> float:
        """Value that the duals give the right-hand side."""
        return float(self._duals @ self.right[self._open])

    def levels(self) -> list[tuple[int, float]]:
        """Give each column of the basis and its level at the unshifted right-hand side."""
        level = np.einsum("ij,j->i", self._inverse, self.right[self._open])
        return [(int(column), float(x)) for column, x in zip(self._basis, level, strict=True)]
