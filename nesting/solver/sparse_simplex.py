"""
The wide linear programme: the same as ``simplex``, solved by HiGHS.

Our own simplex keeps its inverse dense, which is quickest up to a few hundred rows; at a thousand, one
pivot there costs as much as fifteen of a sparse factorisation.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from nesting.solver.columns import Pool
from nesting.solver.engine import Engine
from nesting.solver.highs import silent
from nesting.solver.kernel import Floats
from nesting.solver.simplex import SHIFT, TOLERANCE, WORTH_WARM, Simplex

SPARSE_ROWS = 500
"""Open rows from which on the sparse factorisation is quicker."""
ITERATIONS_PER_CALL = 1_000
"""About a tenth of a second at a thousand rows; calls too short would start again and again and never end."""
DUAL, PRIMAL = 1, 4
"""HiGHS's numbers for the two forms of the simplex method."""


class SparseSimplex:
    """
    Least cost of the pool's columns at a right-hand side; takes and gives what ``Simplex`` does.

    A right-hand side with few open rows, as dives have towards their end, goes to ``Simplex``.

    Parameters
    ----------
    pool, first, engine, poll, seed
        Those of ``Simplex``.
    rows
        Open rows from which on HiGHS is used.
    """

    def __init__(
        self,
        pool: Pool,
        first: Sequence[int],
        engine: Engine,
        poll: Callable[[], None],
        seed: int,
        *,
        rows: int = SPARSE_ROWS,
    ) -> None:
        self._pool = pool
        self._first = np.array(first, np.int64)
        self._poll = poll
        self._draw = np.random.default_rng(seed)
        self._dense = Simplex(pool, first, engine, poll, seed)
        self._rows = rows
        self._wide = False
        self._open = np.zeros(0, np.int64)
        self._right = np.zeros(len(first))
        self._duals = np.zeros(len(first))
        self._solver = _engine()
        self._columns = 0
        self._warm = False
        self.shift = SHIFT

    @property
    def right(self) -> Floats:
        """Right-hand side, shape ``(rows,)``."""
        return self._right

    def forget(self) -> None:
        """Make the next start a cold one."""
        self._warm = False
        self._dense.forget()

    def start(self, right: Floats) -> None:
        """Set the right-hand side, shape ``(rows,)``; keep the basis when that is likely to pay."""
        self._right = right
        open_ = np.flatnonzero(right > 0)
        self._wide = len(open_) >= self._rows
        if not self._wide:
            self._dense.shift = self.shift
            self._dense.start(right)
            return
        warm = self._warm and len(open_) > WORTH_WARM * len(self._open)
        self._open = open_
        if warm:
            self._set_rows()
            self._bar(0)
            self._strategy = DUAL
        else:
            self._start_cold()

    def _start_cold(self) -> None:
        """Begin with one column a row."""
        import highspy

        self._solver = _engine()
        self._columns = 0
        height = len(self._right)
        nothing = np.zeros(0, np.int32)
        self._solver.addRows(
            height, np.zeros(height), np.zeros(height), 0, np.zeros(height, np.int32), nothing, np.zeros(0)
        )
        self._set_rows()
        self._follow_pool()
        status = highspy.HighsBasisStatus
        columns, rows = [status.kLower] * self._columns, [status.kBasic] * height
        for row in self._open:
            columns[self._first[row]], rows[row] = status.kBasic, status.kLower
        basis = highspy.HighsBasis()
        basis.col_status, basis.row_status = columns, rows
        basis.valid = True
        self._solver.setBasis(basis)
        self._strategy = PRIMAL
        self._warm = True

    def _set_rows(self) -> None:
        """Fix the open rows at their shifted right-hand side and free the closed ones."""
        right = self._right
        shifted = right + self.shift * (1.0 + self._draw.random(len(right)))
        rows = np.arange(len(right), dtype=np.int32)
        low = np.where(right > 0, shifted, -np.inf)
        high = np.where(right > 0, shifted, np.inf)
        self._solver.changeRowsBounds(len(rows), rows, low, high)

    def _bar(self, begin: int) -> Floats:
        """Set the most that the columns from ``begin`` on may take: nothing where a row has no room."""
        pool = self._pool
        ends = pool.starts[begin : self._columns + 1]
        part = slice(int(ends[0]), int(ends[-1]))
        room = self._right[pool.rows[part]]
        bad = (pool.entries[part] > room + TOLERANCE) | (room <= 0)
        most = np.where(np.logical_or.reduceat(bad, ends[:-1] - ends[0]), 0.0, np.inf)
        columns = np.arange(begin, self._columns, dtype=np.int32)
        self._solver.changeColsBounds(len(columns), columns, np.zeros(len(columns)), most)
        return most

    def _follow_pool(self) -> None:
        """Take up the columns that the pool has gained."""
        pool, begin = self._pool, self._columns
        number = len(pool) - begin
        if number == 0:
            return
        starts = pool.starts[begin : begin + number + 1]
        part = slice(int(starts[0]), int(starts[-1]))
        self._solver.addCols(
            number,
            pool.costs[begin : begin + number],
            np.zeros(number),
            np.full(number, np.inf),
            part.stop - part.start,
            (starts[:-1] - starts[0]).astype(np.int32),
            pool.rows[part].astype(np.int32),
            pool.entries[part],
        )
        self._columns = len(pool)
        self._bar(begin)

    def optimise(self) -> None:
        """Pivot until no column of the pool improves the basis."""
        if not self._wide:
            self._dense.optimise()
            return
        import highspy

        self._follow_pool()
        optimal = highspy.HighsModelStatus.kOptimal
        if self._run() != optimal and self._strategy == DUAL:
            self._start_cold()
            self._run()
        self._strategy = PRIMAL
        if self._solver.getModelStatus() != optimal:
            # It may refuse where others set it up in this process; the dense one is only slower.
            self.forget()
            self._wide = False
            self._dense.shift = self.shift
            self._dense.start(self._right)
            self._dense.optimise()
            return
        self._duals = np.array(self._solver.getSolution().row_dual)

    def _run(self) -> Any:
        """Pivot to the end, asking for a stop in between; give HiGHS's status."""
        import highspy

        self._solver.setOptionValue("simplex_strategy", self._strategy)
        iterations = ITERATIONS_PER_CALL
        while True:
            self._solver.setOptionValue("simplex_iteration_limit", iterations)
            self._solver.run()
            iterations *= 2
            self._poll()
            status = self._solver.getModelStatus()
            if status != highspy.HighsModelStatus.kIterationLimit:
                return status

    @property
    def duals(self) -> Floats:
        """Duals of all rows, zero where a row is closed, shape ``(rows,)``."""
        if not self._wide:
            return self._dense.duals
        duals = np.zeros(len(self._right))
        duals[self._open] = self._duals[self._open]
        return duals

    @property
    def value(self) -> float:
        """Value that the duals give the right-hand side."""
        if not self._wide:
            return self._dense.value
        return float(self._duals[self._open] @ self._right[self._open])

    def levels(self) -> list[tuple[int, float]]:
        """Give each column of the basis and its level at the unshifted right-hand side."""
        if not self._wide:
            return self._dense.levels()
        basic: NDArray[np.int32]
        _, basic = self._solver.getBasicVariables()
        _, level = self._solver.getBasisSolve(self._right)
        return [(int(column), float(x)) for column, x in zip(basic, level, strict=True) if column >= 0]


def _engine() -> Any:
    solver = silent()
    for option, value in (
        ("presolve", "off"),
        ("primal_feasibility_tolerance", TOLERANCE),
        ("dual_feasibility_tolerance", TOLERANCE),
    ):
        solver.setOptionValue(option, value)
    return solver
