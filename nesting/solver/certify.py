"""The bound in exact whole numbers, for anybody to check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nesting.solver.aim import Aim, Duals
from nesting.solver.pricing import Pricer
from nesting.solver.reduce import Reduced

EXACT_BELOW = 2**40
"""Whole values up to here leave the pricing tree's floating sums exact with room to spare."""


@dataclass(frozen=True, slots=True)
class Proof:
    """
    Whole-number duals and the bound they prove.

    Parameters
    ----------
    pieces, supplies, budget
        Duals of the lengths, the kinds and one unit left out, in units of 1/``scale`` of the aim's cost.
    total
        sum(pieces * demands) - sum(supplies * supply) - budget * allowed, in the same units.
    """

    pieces: tuple[int, ...]
    supplies: tuple[int, ...]
    budget: int
    scale: int
    total: int

    @property
    def bound(self) -> int:
        """Least whole cost that the duals allow."""
        return max(0, -(-self.total // self.scale))


def certify(reduced: Reduced, aim: Aim, duals: Duals, pricer: Pricer) -> Proof:
    """
    Turn floating duals into whole ones whose pricing is re-solved exactly.

    The duals are scaled and rounded down. For each kind of bar the dearest pattern is found
    exactly; where it exceeds the cost of a bar, a limited kind's supply dual makes up for it,
    and for an unlimited kind all duals are shrunk until it no longer does. By weak duality every plan
    then costs at least the bound.
    """
    top = max((*aim.costs, *(aim.leaving or ())), default=1)
    scale = max(1, EXACT_BELOW // max(top, 1))
    pieces = [_whole(value * scale) for value in duals.pieces]
    budget = _whole(duals.budget * scale)
    for kind, cost in zip(reduced.kinds, aim.costs, strict=True):
        if kind.supply is None and cost == 0:
            pieces = [
                0 if size <= kind.capacity else p for size, p in zip(reduced.sizes, pieces, strict=True)
            ]
    if aim.leaving is not None:
        weights = aim.weights or (0,) * len(pieces)
        most = [scale * cost + budget * w for cost, w in zip(aim.leaving, weights, strict=True)]
        pieces = [min(pair) for pair in zip(pieces, most, strict=True)]
    pieces, supplies = _affordable(reduced, aim, pieces, scale, pricer)
    total = sum(p * n for p, n in zip(pieces, reduced.demands, strict=True)) - budget * (aim.budget or 0)
    total -= sum(s * (kind.supply or 0) for s, kind in zip(supplies, reduced.kinds, strict=True))
    return Proof(tuple(pieces), tuple(supplies), budget, scale, total)


def mean(proofs: Sequence[Proof]) -> Proof:
    """
    Give the proof by the mean of the duals, which holds because each of them does.

    A pattern that any one of them bars at no slack is barred by the mean.
    """
    return Proof(
        tuple(sum(prices) for prices in zip(*(proof.pieces for proof in proofs), strict=True)),
        tuple(sum(prices) for prices in zip(*(proof.supplies for proof in proofs), strict=True)),
        sum(proof.budget for proof in proofs),
        sum(proof.scale for proof in proofs),
        sum(proof.total for proof in proofs),
    )


def _whole(value: float) -> int:
    # A dual a hair below a whole number must not lose a unit.
    return max(0, int(value + 1e-3))


def _affordable(
    reduced: Reduced, aim: Aim, pieces: list[int], scale: int, pricer: Pricer
) -> tuple[list[int], list[int]]:
    """Shrink ``pieces`` until no unlimited kind is exceeded; give them and the limited kinds' excess."""
    for _ in range(50):
        worths = _dearest(reduced, aim, pieces, scale, pricer)
        excess = [max(worth - cost * scale, 0) for worth, cost in zip(worths, aim.costs, strict=True)]
        over = [k for k, kind in enumerate(reduced.kinds) if kind.supply is None and excess[k]]
        if not over:
            return pieces, excess
        worst = max(over, key=lambda k: worths[k] / max(aim.costs[k], 1))
        pieces = [p * aim.costs[worst] * scale // worths[worst] for p in pieces]
    return [0] * len(pieces), [0] * len(reduced.kinds)


def _dearest(reduced: Reduced, aim: Aim, pieces: Sequence[int], scale: int, pricer: Pricer) -> list[int]:
    """Give what no pattern of each kind is worth more than, and never less than its cost."""
    capacities = tuple(sorted({kind.capacity for kind in reduced.kinds}, reverse=True))
    cheapest = {
        c: min(cost for kind, cost in zip(reduced.kinds, aim.costs, strict=True) if kind.capacity == c)
        for c in capacities
    }
    answers = pricer.price(
        np.array(pieces, np.float64),
        np.array(reduced.demands, np.int64),
        capacities,
        [float(cheapest[c] * scale) for c in capacities],
        step=0.5,
    )
    # A finished search leaves its ceiling half a unit above the best, so cutting it off gives the best;
    # an unfinished one gives a ceiling whose rounding error is far below one unit.
    worth = {c: int(answer.ceiling + 1e-3) for c, answer in zip(capacities, answers, strict=True)}
    return [worth[kind.capacity] for kind in reduced.kinds]
