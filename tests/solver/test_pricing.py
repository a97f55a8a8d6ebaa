"""Tree and table give one price."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.solver.engine import Engine
from nesting.solver.params import ColumnParams
from nesting.solver.pricing import Pricer

SIZES = (41, 37, 36, 29, 23, 22, 17, 11)


@pytest.mark.parametrize("capacities", [[100], [100, 73, 50]])
def test_tree_and_table_agree(capacities: list[int]) -> None:
    """Which one is used is a matter of speed alone."""
    values = np.array([0.41, 0.38, 0.35, 0.30, 0.22, 0.23, 0.16, 0.12])
    limits = np.full(8, 3, np.int64)
    floors = [0.0] * len(capacities)
    tree = Pricer(SIZES, Engine(tiny=False), ColumnParams(table_cells=0))
    table = Pricer(SIZES, Engine(tiny=False), ColumnParams(tree_nodes=1))
    for a, b, capacity in zip(
        tree.price(values, limits, capacities, floors),
        table.price(values, limits, capacities, floors),
        capacities,
        strict=True,
    ):
        assert a.value == pytest.approx(b.value)
        for answer in (a, b):
            assert sum(SIZES[i] * n for i, n in answer.pieces) <= capacity
            assert sum(values[i] * n for i, n in answer.pieces) == pytest.approx(answer.value)


def test_nothing_above_the_floor_gives_no_pattern() -> None:
    """Only columns that pay are wanted."""
    pricer = Pricer(SIZES, Engine(tiny=True), ColumnParams())
    [answer] = pricer.price(np.full(8, 0.1), np.ones(8, np.int64), [100], [5.0])
    assert (answer.pieces, answer.value) == ((), 5.0)
