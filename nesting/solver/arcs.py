"""
The arcs that a better plan could still use.

A bar is a path: each arc (length, place) lays one piece at a place measured from the bar's
clean end, longer pieces first (Valerio de Carvalho, 1999, Ann. Oper. Res. 86). A plan that costs
no more than a target uses only paths whose reduced cost is at most target minus bound, so every
arc on no such path is dropped (reduced-cost fixing). All of it is whole-number arithmetic.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nesting.solver.aim import Aim
from nesting.solver.certify import Proof
from nesting.solver.engine import Engine
from nesting.solver.reduce import Reduced


@dataclass(frozen=True, slots=True)
class Arcs:
    """
    Arcs and ends that survive.

    Parameters
    ----------
    pieces
        Whether the arc (length, place) survives, shape ``(m, capacity + 1)``.
    ends
        Whether a bar of the kind may be filled up to the place, shape ``(kinds, capacity + 1)``.
    """

    pieces: NDArray[np.uint8]
    ends: NDArray[np.uint8]

    def __len__(self) -> int:
        return int(self.pieces.sum()) + int(self.ends.sum())


def cells(reduced: Reduced) -> int:
    """Give the number of states that thinning out would visit."""
    capacity = reduced.kinds[0].capacity
    copies = sum(min(n, capacity // s) for s, n in zip(reduced.sizes, reduced.demands, strict=True))
    return copies * (capacity + 1)


def all_arcs(reduced: Reduced) -> Arcs:
    """Give every arc that fits the largest bar."""
    capacity = reduced.kinds[0].capacity
    pieces = np.ones((len(reduced.sizes), capacity + 1), np.uint8)
    ends = np.ones((len(reduced.kinds), capacity + 1), np.uint8)
    for k, kind in enumerate(reduced.kinds):
        ends[k, kind.capacity + 1 :] = 0
    return Arcs(pieces, ends)


def thin_out(reduced: Reduced, aim: Aim, arcs: Arcs, proof: Proof, target: int, engine: Engine) -> Arcs:
    """
    Drop the arcs that no plan of cost ``target`` or less can use, by the duals of ``proof``.

    Proofs may be applied one after the other: each only shortens what the others left.
    """
    slack = target * proof.scale - proof.total
    if slack < 0:
        return Arcs(np.zeros_like(arcs.pieces), np.zeros_like(arcs.ends))
    owners: list[int] = []
    capacity = reduced.kinds[0].capacity
    for i, (size, demand) in enumerate(zip(reduced.sizes, reduced.demands, strict=True)):
        owners.extend([i] * min(demand, capacity // size))
    owner = np.array(owners, np.int64)
    paid = [c * proof.scale + s for c, s in zip(aim.costs, proof.supplies, strict=True)]
    pieces = np.zeros_like(arcs.pieces)
    ends = np.zeros_like(arcs.ends)
    engine.thin_out(
        owner,
        np.array(reduced.sizes, np.int64),
        np.array(proof.pieces, np.float64),
        np.array(paid, np.float64),
        arcs.pieces,
        arcs.ends,
        float(-slack),
        pieces,
        ends,
        cells=len(owner) * (capacity + 1),
    )
    return Arcs(pieces, ends)


def places(arcs: Arcs, sizes: Sequence[int]) -> list[tuple[int, int]]:
    """Give the surviving arcs as pairs (length, place), longest length first."""
    found = np.argwhere(arcs.pieces)
    return [(int(i), int(w)) for i, w in found if w + sizes[i] < arcs.pieces.shape[1]]
