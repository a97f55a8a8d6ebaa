"""Patterns through each length, read from the table of the pricing problem."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.solver.engine import Engine
from nesting.solver.params import ColumnParams
from nesting.solver.pricing import Pricer

SIZES = (41, 37, 29, 22)
VALUES = np.array([0.43, 0.36, 0.30, 0.20])


@pytest.mark.parametrize("tiny", [True, False])
def test_each_length_gets_its_best_pattern(tiny: bool) -> None:
    """One column a length brings the linear programme to its end in a third of the rounds."""
    pricer = Pricer(SIZES, Engine(tiny=tiny), ColumnParams())
    found = pricer.price_through(VALUES, np.full(4, 2, np.int64), 100, 0.0)
    # 41: + 29 + 29 = 99 is worth 1.03, more than 41 + 37 + 22 = 100 with 0.99
    # 37: + 41 + 22 = 0.99; 29: + 41 + 29; 22: + 41 + 37
    assert found == [
        ((0, 1), (2, 2)),
        ((0, 1), (2, 2)),
        ((0, 1), (1, 1), (3, 1)),
        ((0, 1), (1, 1), (3, 1)),
    ]


def test_only_what_pays_and_never_more_than_is_open() -> None:
    """A column below the floor is useless, one that takes more than is open is barred."""
    pricer = Pricer(SIZES, Engine(tiny=True), ColumnParams())
    assert pricer.price_through(VALUES, np.full(4, 2, np.int64), 100, 1.0) == [((0, 1), (2, 2))] * 2
    # One 29 is open: behind a 29 the table would lay another, so there is no pattern through it
    found = pricer.price_through(VALUES, np.array([2, 1, 1, 1]), 100, 0.0)
    assert all(n <= (2, 1, 1, 1)[i] for pieces in found for i, n in pieces)
    assert all(sum(SIZES[i] * n for i, n in pieces) <= 100 for pieces in found)


def test_no_table_beyond_the_memory_allowed() -> None:
    """Very fine saw steps would fill gigabytes."""
    pricer = Pricer(SIZES, Engine(tiny=True), ColumnParams(through_cells=100))
    assert pricer.price_through(VALUES, np.full(4, 2, np.int64), 100, 0.0) == []
