"""Which row of the linear programme stands for what."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.domain.problem import BarKind
from nesting.solver.aim import Aim
from nesting.solver.columns import Pattern
from nesting.solver.reduce import reduce_problem
from nesting.solver.rows import Rows
from nesting.units import Length
from tests.solver.replay import problem

BARS = [
    BarKind(key="bought", length=Length(100), cost=10),
    BarKind(key="offcut", length=Length(60), cost=1, count=2),
]


def test_limited_kinds_and_budget_stand_behind_the_lengths() -> None:
    """Every part of the solver reads prices by these places; a shift would prove a wrong bound."""
    reduced = reduce_problem(problem({50: 3, 30: 4}, BARS))
    offcut = next(k for k, kind in enumerate(reduced.kinds) if kind.supply is not None)
    rows = Rows(reduced, Aim.least_cost(reduced, 7))
    assert (rows.lengths, rows.of_kind, rows.of_budget, rows.count) == (2, {offcut: 2}, 3, 4)
    assert list(rows.right_hand([3, 4], [2 if k == offcut else None for k in range(2)])) == [3, 4, 2, 7]
    assert rows.column(Pattern(offcut, ((0, 1),))) == ((0, 1), (2, 1))
    assert rows.column(Pattern(1 - offcut, ((0, 2),))) == ((0, 2),)


def test_prices_are_read_with_their_signs() -> None:
    """A bar at hand and a unit left out have prices of the other sign; noise of the wrong sign is zero."""
    reduced = reduce_problem(problem({50: 3, 30: 4}, BARS))
    offcut = next(k for k, kind in enumerate(reduced.kinds) if kind.supply is not None)
    duals = Rows(reduced, Aim.least_cost(reduced, 7)).duals(np.array([5.0, -1e-12, -2.0, -0.5]))
    assert duals.pieces == pytest.approx([5.0, 0.0])
    assert duals.supplies[offcut] == pytest.approx(2.0)
    assert duals.supplies[1 - offcut] == 0.0
    assert duals.budget == pytest.approx(0.5)
