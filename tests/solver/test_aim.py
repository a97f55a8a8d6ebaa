"""Prices that bound a plan before anything is solved."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.domain.problem import BarKind
from nesting.solver.aim import Aim, Duals
from nesting.solver.reduce import reduce_problem
from nesting.units import Length
from tests.solver.replay import problem


def test_sizes_alone_bound_the_cost() -> None:
    """The bound by size is what wide programmes set out from; it must hold for every kind of bar."""
    bars = [
        BarKind(key="long", length=Length(100), cost=10),
        BarKind(key="short", length=Length(60), cost=7),
    ]
    reduced = reduce_problem(problem({50: 3, 30: 4}, bars))
    duals = Duals.by_size(reduced, Aim.least_cost(reduced, 0), np.array(reduced.demands))
    # 3 x 50 + 4 x 30 = 270; a unit costs 10 / 100 in a long bar and 7 / 60 in a short one
    assert duals.bound == pytest.approx(27.0)
    assert duals.pieces == pytest.approx([5.0, 3.0])
    assert not duals.supplies.any()
