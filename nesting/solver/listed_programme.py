"""The linear programme over listed patterns: columns are taken from the list as they are needed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nesting.solver.highs import silent
from nesting.solver.kernel import Floats, Ints
from nesting.solver.kernel_listing import Rows
from nesting.solver.listing import Listing

ABSENT_COST = 10.0
"""Cost, in bars, of a piece that the columns at hand do not cover."""


class ListedProgramme:
    """
    Fewest bars that cut exactly what is open, over some of a list's patterns (HiGHS, warm).

    Parameters
    ----------
    listing
        Where the columns come from.
    lengths
        Rows: number of lengths.
    """

    def __init__(self, listing: Listing, lengths: int) -> None:
        import highspy

        self._listing = listing
        self._lengths = lengths
        self._infinity = highspy.kHighsInf
        self._solver = silent()
        for option, value in (
            ("presolve", "off"),
            ("solver", "simplex"),
            ("primal_feasibility_tolerance", 1e-9),
            ("dual_feasibility_tolerance", 1e-9),
        ):
            self._solver.setOptionValue(option, value)
        model = highspy.HighsLp()
        model.num_col_ = model.num_row_ = lengths
        model.col_cost_ = np.full(lengths, ABSENT_COST)
        model.col_lower_ = np.zeros(lengths)
        model.col_upper_ = np.full(lengths, self._infinity)
        model.row_lower_ = model.row_upper_ = np.zeros(lengths)
        matrix = model.a_matrix_
        matrix.format_ = highspy.MatrixFormat.kColwise
        matrix.start_ = np.arange(lengths + 1)
        matrix.index_ = np.arange(lengths)
        matrix.value_ = np.ones(lengths)
        self._solver.passModel(model)
        self.columns: list[int] = []
        self._known: set[int] = set()
        self._high = np.zeros(0)

    def add(self, numbers: Sequence[int]) -> None:
        """Take patterns from the list."""
        listing = self._listing
        fresh = [number for number in dict.fromkeys(numbers) if number not in self._known]
        for number in fresh:
            part = slice(int(listing.starts[number]), int(listing.starts[number + 1]))
            self._solver.addCol(
                1.0, 0.0, self._infinity, part.stop - part.start,
                listing.rows[part], listing.entries[part].astype(np.float64),
            )  # fmt: skip
        self.columns += fresh
        self._known.update(fresh)
        self._high = np.concatenate([self._high, np.full(len(fresh), self._infinity)])

    def move_to(self, demands: Ints, dead: Rows) -> None:
        """Set what is open, and bar the columns whose patterns are out."""
        rows = np.arange(self._lengths, dtype=np.int32)
        right = demands.astype(np.float64)
        self._solver.changeRowsBounds(len(rows), rows, right, right)
        high = np.where(dead[self.columns] == 0, self._infinity, 0.0)
        changed = np.flatnonzero(high != self._high).astype(np.int32)
        if len(changed):
            self._solver.changeColsBounds(
                len(changed), changed + self._lengths, np.zeros(len(changed)), high[changed]
            )
        self._high = high

    def solve(self) -> float:
        """Give the least number of bars over the columns at hand; pieces not covered count for many."""
        self._solver.run()
        solution = self._solver.getSolution()
        values = np.array(solution.col_value)
        self.absent = values[: self._lengths]
        self.levels: Floats = values[self._lengths :]
        self.duals: Floats = np.array(solution.row_dual)
        return float(self._solver.getInfo().objective_function_value)
