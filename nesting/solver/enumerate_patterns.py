"""All full patterns that a better plan could still use, when there are few."""

from __future__ import annotations

import numpy as np

from nesting.solver.aim import Aim
from nesting.solver.certify import Proof
from nesting.solver.columns import Pattern
from nesting.solver.engine import Engine
from nesting.solver.reduce import Reduced


def enumerate_patterns(
    reduced: Reduced,
    aim: Aim,
    proof: Proof,
    target: int,
    engine: Engine,
    *,
    max_patterns: int,
    max_nodes: int,
) -> list[Pattern] | None:
    """
    List the full patterns whose reduced cost a plan of cost ``target`` could bear.

    By the duals of ``proof`` such a plan uses no pattern whose reduced cost is above target minus
    bound. Whole-number arithmetic throughout.

    Returns
    -------
    list or None
        None when there are more than ``max_patterns`` of one kind, or finding them takes too long.
    """
    slack = target * proof.scale - proof.total
    if slack < 0:
        return []
    sizes = np.array(reduced.sizes, np.int64)
    values = np.array(proof.pieces, np.float64)
    order = np.argsort(-values / sizes, kind="stable")
    demands = np.array(reduced.demands, np.int64)
    patterns = []
    for k, kind in enumerate(reduced.kinds):
        least = aim.costs[k] * proof.scale + proof.supplies[k] - slack
        limits = np.minimum(demands, kind.capacity // sizes)[order]
        found = np.zeros((max_patterns, len(order)), np.int64)
        number = engine.list_patterns(
            sizes[order], values[order], limits, kind.capacity, float(least), nodes=max_nodes, found=found
        )
        if number < 0:
            return None
        for row in found[:number]:
            pieces = tuple(sorted((int(order[j]), int(row[j])) for j in np.flatnonzero(row)))
            if pieces:
                patterns.append(Pattern(k, pieces))
    return patterns
