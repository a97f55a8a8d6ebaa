"""All patterns, full or not, that a better plan could still use: what thinned-out arcs spell."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.solver.arcs import Arcs
from nesting.solver.certify import Proof
from nesting.solver.columns import Pattern
from nesting.solver.engine import Engine
from nesting.solver.kernel import Ints
from nesting.solver.kernel_listing import Rows
from nesting.solver.reduce import Reduced

ROOM = 12
"""Lengths a listed pattern may hold on average."""


@dataclass(frozen=True, slots=True)
class Listing:
    """
    Patterns as compressed arrays.

    Parameters
    ----------
    starts
        Where each pattern begins, shape ``(patterns + 1,)``.
    rows, entries
        Its lengths, and how many of each.
    """

    starts: Ints
    rows: Rows
    entries: Rows

    def __len__(self) -> int:
        return len(self.starts) - 1

    def pattern(self, number: int) -> Pattern:
        """Give one pattern on the only kind of bar."""
        part = slice(int(self.starts[number]), int(self.starts[number + 1]))
        return Pattern(
            0, tuple((int(i), int(n)) for i, n in zip(self.rows[part], self.entries[part], strict=True))
        )


def list_by_arcs(
    reduced: Reduced,
    arcs: Arcs,
    proof: Proof,
    target: int,
    engine: Engine,
    *,
    max_patterns: int,
    max_nodes: int,
) -> Listing | None:
    """
    List what the arcs spell and the duals of ``proof`` allow in a plan of cost ``target`` or less.

    For one unlimited kind of bar. Every plan of that cost that cuts exactly what is asked for
    uses only these.

    Returns
    -------
    Listing or None
        None when there are more than ``max_patterns``, or finding them takes too long.
    """
    [kind] = reduced.kinds
    sizes = np.array(reduced.sizes, np.int64)
    limits = np.minimum(np.array(reduced.demands, np.int64), kind.capacity // sizes)
    starts = np.empty(max_patterns + 1, np.int64)
    rows = np.empty(ROOM * max_patterns + len(sizes), np.int32)
    entries = np.empty_like(rows)
    slack = target * proof.scale - proof.total
    number = engine.list_paths(
        sizes,
        limits,
        np.array(proof.pieces, np.float64),
        float(kind.cost * proof.scale),
        arcs.pieces,
        arcs.ends[0],
        float(-slack),
        nodes=max_nodes,
        starts=starts,
        rows=rows,
        entries=entries,
    )
    if number < 0:
        return None
    filled = int(starts[number])
    return Listing(starts[: number + 1].copy(), rows[:filled].copy(), entries[:filled].copy())
