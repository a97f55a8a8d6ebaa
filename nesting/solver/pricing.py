"""Pricing: the most valuable pattern for each capacity, by tree or by table, whichever suits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nesting.solver.columns import Pieces
from nesting.solver.engine import Engine
from nesting.solver.kernel import Floats, Ints
from nesting.solver.params import ColumnParams

CELLS_PER_NODE = 200
"""Table cells filled in the time of one leaf of the tree (measured: 0.5 ns against about 100 ns)."""


@dataclass(frozen=True, slots=True)
class Priced:
    """
    Answer of one pricing problem.

    Parameters
    ----------
    value
        Value of the best pattern found; ``floor`` when none beats it.
    ceiling
        No pattern is worth more; within ``step`` of ``value`` when the search was finished.
    pieces
        The pattern; empty when none beats ``floor``.
    """

    value: float
    ceiling: float
    pieces: Pieces


@dataclass(frozen=True, slots=True)
class _Table:
    """Bundles of equal pieces, and the best sum for every capacity with the bundles in it."""

    owner: Ints
    pieces: Ints
    taken: NDArray[np.uint8]
    total: Floats


class Pricer:
    """
    Solves the bounded knapsacks of one group.

    Parameters
    ----------
    sizes
        Shape ``(m,)``.
    engine
        Kernel to run.
    params
        When the table takes over from the tree.
    """

    def __init__(self, sizes: Sequence[int], engine: Engine, params: ColumnParams) -> None:
        self._sizes = np.array(sizes, np.int64)
        self._engine = engine
        self._params = params
        self.nodes = 0

    def price(
        self,
        values: Floats,
        limits: Ints,
        capacities: Sequence[int],
        floors: Sequence[float],
        *,
        step: float = 1e-9,
        exact: bool = True,
    ) -> list[Priced]:
        """
        Price each capacity.

        Parameters
        ----------
        values, limits
            Value of one piece and pieces at most in a pattern, shape ``(m,)``.
        floors
            Only patterns worth more than this count, one per capacity.
        exact
            Whether to go on when the tree has used up its nodes.
        """
        order, cells = self._by_density(values, limits, max(capacities))
        sizes, worth = self._sizes[order], values[order]
        tabular = cells <= self._params.table_cells
        # The tree is given about the time that the table would take.
        first_nodes = min(self._params.tree_nodes, 200 + cells // CELLS_PER_NODE)
        if tabular and exact and cells < len(capacities) * CELLS_PER_NODE * 50:
            return self._from_table(order, worth, limits, capacities, floors)
        answers = []
        for capacity, floor in zip(capacities, floors, strict=True):
            caps = np.minimum(limits[order], capacity // sizes)
            best = np.zeros(len(order), np.int64)
            nodes = first_nodes if exact else min(first_nodes, self._params.quick_nodes)
            while True:
                value, ceiling, used = self._engine.price_tree(
                    sizes, worth, caps, capacity, floor, step, nodes=nodes, best=best
                )
                self.nodes += used
                if not exact or used < nodes or nodes >= self._params.most_nodes:
                    break
                if tabular:
                    return self._from_table(order, worth, limits, capacities, floors)
                nodes = min(8 * nodes, self._params.most_nodes)
            answers.append(Priced(value, ceiling, _pieces(order, best)))
        return answers

    def price_through(self, values: Floats, limits: Ints, capacity: int, floor: float) -> list[Pieces]:
        """
        Give for each length the most valuable pattern through it, where it is worth more than ``floor``.

        Nothing when the table would be too large.
        """
        order, cells = self._by_density(values, limits, capacity)
        if not 0 < cells <= self._params.through_cells:
            return []
        sizes, worth = self._sizes[order], values[order]
        table = self._fill_table(order, worth, limits, capacity)
        found = np.zeros((len(order), len(order)), np.int64)
        number = self._engine.patterns_through(
            sizes,
            worth,
            limits[order],
            table.owner,
            table.pieces,
            table.taken,
            table.total,
            capacity,
            floor,
            found,
        )
        return [_pieces(order, row) for row in found[:number]]

    def _by_density(self, values: Floats, limits: Ints, capacity: int) -> tuple[Ints, int]:
        """Give the lengths of any value by falling value per size, and the cells of their table."""
        live = np.flatnonzero((values > 1e-12) & (limits > 0))
        order = live[np.argsort(-values[live] / self._sizes[live], kind="stable")]
        bundles = int(np.sum(np.ceil(np.log2(limits[order] + 1)))) if len(order) else 0
        return order, bundles * capacity

    def _from_table(
        self, order: Ints, worth: Floats, limits: Ints, capacities: Sequence[int], floors: Sequence[float]
    ) -> list[Priced]:
        table = self._fill_table(order, worth, limits, max(capacities))
        sizes = self._sizes[order][table.owner] * table.pieces
        answers = []
        for capacity, floor in zip(capacities, floors, strict=True):
            value = float(table.total[capacity])
            counts = np.zeros(len(order), np.int64)
            if value > floor:
                room = capacity
                for b in range(len(sizes) - 1, -1, -1):
                    if table.taken[b, room]:
                        counts[table.owner[b]] += table.pieces[b]
                        room -= int(sizes[b])
            answers.append(Priced(max(value, floor), max(value, floor), _pieces(order, counts)))
        return answers

    def _fill_table(self, order: Ints, worth: Floats, limits: Ints, top: int) -> _Table:
        owners: list[int] = []
        bundles: list[int] = []
        for place, length in enumerate(order):
            left = int(min(limits[length], top // self._sizes[length]))
            bundle = 1
            while left > 0:
                bundles.append(min(bundle, left))
                owners.append(place)
                left -= bundle
                bundle *= 2
        pieces = np.array(bundles, np.int64)
        owner = np.array(owners, np.int64)
        taken = np.empty((len(bundles), top + 1), np.uint8)
        total = np.empty(top + 1, np.float64)
        sizes = self._sizes[order][owner] * pieces
        self._engine.price_table(sizes, worth[owner] * pieces, pieces, top, taken, total, cells=taken.size)
        return _Table(owner, pieces, taken, total)


def _pieces(order: Ints, counts: Ints) -> Pieces:
    return tuple(sorted((int(order[j]), int(counts[j])) for j in np.flatnonzero(counts)))
