"""What a linear programme minimises, and the prices that prove its bound."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.solver.kernel import Floats, Ints
from nesting.solver.reduce import Reduced


@dataclass(frozen=True, slots=True)
class Aim:
    """
    What a linear programme minimises.

    Parameters
    ----------
    costs
        Cost of a bar of each kind.
    leaving
        Cost of leaving out one piece of each length; None when everything must be cut.
    budget
        Size units (``weights``) that may be left out in all; None when not limited.
    weights
        What leaving out one piece takes from the budget.
    """

    costs: tuple[int, ...]
    leaving: tuple[int, ...] | None = None
    budget: int | None = None
    weights: tuple[int, ...] = ()

    @classmethod
    def least_cost(cls, reduced: Reduced, short: int) -> Aim:
        """Aim at the least cost of a plan that leaves out no more than ``short``."""
        costs = tuple(kind.cost for kind in reduced.kinds)
        if short == 0:
            return cls(costs)
        return cls(costs, (0,) * len(reduced.sizes), short, reduced.weights)

    @classmethod
    def least_short(cls, reduced: Reduced) -> Aim:
        """Aim at leaving out as little as possible, at any cost."""
        return cls((0,) * len(reduced.kinds), reduced.weights)

    @property
    def counts_short(self) -> bool:
        """Whether the value is a size left out, not a cost."""
        return self.leaving is not None and self.budget is None


@dataclass(frozen=True, slots=True)
class Duals:
    """
    Prices that prove a bound.

    Parameters
    ----------
    pieces
        Price of a piece of each length, shape ``(m,)``.
    supplies
        Price of a bar of each kind, shape ``(kinds,)``; zero for unlimited kinds.
    budget
        Price of one unit left out.
    bound
        What they prove, in floating point.
    """

    pieces: Floats
    supplies: Floats
    budget: float
    bound: float

    @classmethod
    def of_pieces(cls, reduced: Reduced, pieces: Floats) -> Duals:
        """Give duals of the pieces alone."""
        return cls(pieces, np.zeros(len(reduced.kinds)), 0.0, 0.0)

    @classmethod
    def by_size(cls, reduced: Reduced, aim: Aim, demands: Ints) -> Duals:
        """Give what sizes alone prove: each piece at the least cost of so much of any bar."""
        rate = min(cost / kind.capacity for kind, cost in zip(reduced.kinds, aim.costs, strict=True))
        pieces = rate * np.array(reduced.sizes, np.float64)
        return cls(pieces, np.zeros(len(reduced.kinds)), 0.0, float(pieces @ demands))
