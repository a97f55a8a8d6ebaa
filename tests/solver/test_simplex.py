"""The basis over the pool: it must survive what rounding does to it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from nesting.solver.columns import Pattern, Pool
from nesting.solver.engine import Engine
from nesting.solver.simplex import Simplex


class SpoiledOnce(Engine):
    """Returns from its first pivots with one column twice in the basis, as rounding errors may do."""

    spoiled = False

    def primal_simplex(self, *arguments: Any) -> int:
        """Spoil inverse and basis once, then pivot properly."""
        if self.spoiled:
            return super().primal_simplex(*arguments)
        self.spoiled = True
        inverse, basis = arguments[:2]
        inverse[:] = 2.0
        basis[:] = 0
        return -1


def _programme(engine: Engine) -> Simplex:
    """Two lengths, two pieces of each: a bar takes one piece, or one of both."""
    pool = Pool()
    first = [pool.add(Pattern(0, ((i, 1),)), ((i, 1),), 1.0) for i in range(2)]
    pool.add(Pattern(0, ((0, 1), (1, 1))), ((0, 1), (1, 1)), 1.0)
    simplex = Simplex(pool, first, engine, lambda: None, seed=1)
    simplex.start(np.array([2.0, 2.0]))
    return simplex


def test_reaches_the_least_cost() -> None:
    """Two bars with both lengths beat four with one."""
    simplex = _programme(Engine(tiny=True))
    simplex.optimise()
    assert simplex.value == pytest.approx(2.0)


def test_begins_again_when_the_columns_depend_on_each_other() -> None:
    """A basis without an inverse must not end the search with an error."""
    simplex = _programme(SpoiledOnce(tiny=True))
    simplex.optimise()
    assert simplex.value == pytest.approx(2.0)
