"""What a second goal gains and what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class GoalPrice:
    """
    A second goal before and after it was pursued, beside the first goal, the cost of the bars.

    Parameters
    ----------
    goal
        What is counted: ``patterns``, ``most open units``, ``strokes``, ``stop changes``.
    cost_before, cost_after
        Cost of the bars, in the plan's own units.
    value_before, value_after
        The count.
    lower_bound
        No plan of this kind counts less; None when nothing is known.
    """

    goal: str
    cost_before: int
    cost_after: int
    value_before: int
    value_after: int
    lower_bound: int | None = None

    @property
    def saved(self) -> int:
        """Give what the count fell by."""
        return self.value_before - self.value_after

    @property
    def price(self) -> int:
        """Give what the bars cost more; 0 when the first goal was left alone."""
        return self.cost_after - self.cost_before

    @property
    def price_of_one(self) -> Fraction | None:
        """Give the price of each one saved, exactly; None when nothing was saved."""
        return Fraction(self.price, self.saved) if self.saved else None

    @property
    def proved(self) -> bool:
        """Whether the count cannot be less."""
        return self.lower_bound is not None and self.lower_bound >= self.value_after
