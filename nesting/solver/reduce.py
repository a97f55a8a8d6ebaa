"""The group in small whole numbers: kerf folded in, alike bars merged, dominated bars dropped."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import gcd

from nesting.domain.problem import Problem


@dataclass(frozen=True, slots=True)
class Kind:
    """
    Bars that the search need not tell apart.

    Parameters
    ----------
    capacity
        Units of size a bar holds.
    cost
        Cost of one bar in units of ``Reduced.cost_unit``.
    supply
        Bars at hand; None when no plan could use them up.
    sources
        Indices into ``Problem.bars`` of the bars that stand behind this kind.
    """

    capacity: int
    cost: int
    supply: int | None
    sources: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Reduced:
    """
    A problem without lengths of metal: sizes, demands, kinds of bar.

    Pieces fit a bar when their sizes, a + k, sum to at most its capacity, L - h - e + k; both
    are divided by the sizes' greatest common divisor, the capacity rounded down, which
    changes no sum of sizes that fits.

    Parameters
    ----------
    sizes, demands
        Shape ``(m,)``, largest size first; the order of ``Problem.lengths``.
    kinds
        Largest capacity first.
    weights
        Length of each piece without kerf, in units of ``weight_unit``: what leaving it out counts for.
    cost_unit, weight_unit
        Greatest common divisors of the bars' costs and of the lengths (nanometres).
    """

    sizes: tuple[int, ...]
    demands: tuple[int, ...]
    kinds: tuple[Kind, ...]
    weights: tuple[int, ...]
    cost_unit: int
    weight_unit: int

    @property
    def size(self) -> int:
        """Size of all pieces together."""
        return sum(size * n for size, n in zip(self.sizes, self.demands, strict=True))


def reduce_problem(problem: Problem) -> Reduced:
    """Give the problem that the search works on; plans of either are plans of the other at one cost."""
    kerf = problem.kerf
    sizes = [length + kerf for length in problem.lengths]
    unit = gcd(*sizes) or 1
    pieces = sum(problem.counts)
    weight_unit = gcd(*problem.lengths) or 1
    cost_unit = gcd(*(bar.cost for bar in problem.bars)) or 1
    merged: dict[tuple[int, int], list[int]] = {}
    for index, bar in enumerate(problem.bars):
        capacity = (bar.usable + kerf) // unit
        if bar.count != 0 and sizes and capacity * unit >= sizes[-1]:
            merged.setdefault((capacity, bar.cost // cost_unit), []).append(index)
    kinds = []
    for (capacity, cost), sources in merged.items():
        counts = [problem.bars[index].count for index in sources]
        supply = None if None in counts else sum(count or 0 for count in counts)
        # Every bar holds a piece, so more bars than pieces are never opened.
        kinds.append(
            Kind(capacity, cost, None if supply is None or supply >= pieces else supply, tuple(sources))
        )
    return Reduced(
        sizes=tuple(size // unit for size in sizes),
        demands=problem.counts,
        kinds=tuple(sorted(undominated(kinds), key=lambda kind: (-kind.capacity, kind.cost))),
        weights=tuple(length // weight_unit for length in problem.lengths),
        cost_unit=cost_unit,
        weight_unit=weight_unit,
    )


def undominated(kinds: Iterable[Kind]) -> list[Kind]:
    """
    Drop every kind that an unlimited one beats in cost and capacity.

    Replacing each bar of the dropped kind by one of the better kind keeps the plan and costs no more.
    """
    kept: list[Kind] = []
    for kind in sorted(kinds, key=lambda k: (k.cost, -k.capacity, k.supply is not None)):
        if not any(better.supply is None and better.capacity >= kind.capacity for better in kept):
            kept.append(kind)
    return kept
