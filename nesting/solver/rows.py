"""Which row of the linear programme stands for what: lengths first, then limited kinds, then the budget."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nesting.solver.aim import Aim, Duals
from nesting.solver.columns import Pattern, Pieces
from nesting.solver.kernel import Floats
from nesting.solver.reduce import Reduced


class Rows:
    """
    The rows of a linear programme over patterns.

    Attributes
    ----------
    lengths
        How many rows say that a length must be cut often enough; they come first.
    of_kind
        The row that holds back each limited kind of bar, by its index in ``Reduced.kinds``.
    of_budget
        The row that limits what is left out in all; None when nothing does.
    count
        How many rows there are.
    """

    def __init__(self, reduced: Reduced, aim: Aim) -> None:
        self._kinds = len(reduced.kinds)
        self._budget = aim.budget
        self.lengths = len(reduced.sizes)
        limited = [k for k, kind in enumerate(reduced.kinds) if kind.supply is not None]
        self.of_kind = {k: self.lengths + place for place, k in enumerate(limited)}
        last = self.lengths + len(limited)
        self.of_budget = None if aim.budget is None else last
        self.count = last + (aim.budget is not None)

    def column(self, pattern: Pattern) -> Pieces:
        """Give the column of a pattern: its pieces, and its bar where the kind is limited."""
        if pattern.kind in self.of_kind:
            return (*pattern.pieces, (self.of_kind[pattern.kind], 1))
        return pattern.pieces

    def right_hand(self, demands: Sequence[int], supplies: Sequence[int | None]) -> Floats:
        """Give the right-hand side, shape ``(count,)``: pieces still to cut, bars still at hand, budget."""
        right = np.zeros(self.count)
        right[: self.lengths] = demands
        for k, row in self.of_kind.items():
            right[row] = supplies[k] or 0
        if self.of_budget is not None:
            right[self.of_budget] = self._budget
        return right

    def duals(self, raw: Floats) -> Duals:
        """Read the simplex's prices, shape ``(count,)``; the tiny ones of the wrong sign count as zero."""
        supplies = np.zeros(self._kinds)
        for k, row in self.of_kind.items():
            supplies[k] = max(-raw[row], 0.0)
        budget = 0.0 if self.of_budget is None else max(-float(raw[self.of_budget]), 0.0)
        return Duals(np.maximum(raw[: self.lengths], 0.0), supplies, budget, 0.0)
