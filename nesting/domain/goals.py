"""Second goals: which are asked for, what each gains and what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.errors import ProblemError

MOST_IN_A_GANG = 99


class Slivers(StrEnum):
    """What becomes of cuts whose last stroke has less than a kerf of metal: told, or never planned."""

    WARN = "warn"
    FORBID = "forbid"


@dataclass(frozen=True, slots=True, kw_only=True)
class Goals:
    """
    What a plan should be good at beside its cost.

    Only the ban on slivers may raise the cost; the others make the best of the bars that cost least.

    Parameters
    ----------
    fewer_patterns
        Whether to look for fewer different patterns, and fewer moves of the stop, on the same bars.
    gang
        Bars of one pattern that are clamped side by side and cut with one stroke.
    open_units
        Whether to order the bars so that few units are half finished at once.
    long_tail
        Whether to collect what is left over in one tail as long as can be, at no more cost and scrap.
    slivers
        Whether a last stroke with less than a kerf of metal in it is warned of or forbidden.
    """

    fewer_patterns: bool = False
    gang: int = 1
    open_units: bool = False
    long_tail: bool = False
    slivers: Slivers = Slivers.WARN

    def __post_init__(self) -> None:
        """Refuse a clamp that holds nothing."""
        if not 1 <= self.gang <= MOST_IN_A_GANG:
            raise ProblemError(f"A clamp holds 1 to {MOST_IN_A_GANG} bars, not {self.gang}.")


PLAIN_GOALS = Goals()


@dataclass(frozen=True, slots=True, kw_only=True)
class GoalPrice:
    """
    A second goal before and after it was pursued, beside the first goal, the cost of the bars.

    Parameters
    ----------
    goal
        What is counted: ``patterns``, ``most open units``, ``strokes``, ``stop changes``, ``slivers``,
        ``bars until the urgent are cut``.
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
    def proved(self) -> bool:
        """Whether the count cannot be less."""
        return self.lower_bound is not None and self.lower_bound >= self.value_after
