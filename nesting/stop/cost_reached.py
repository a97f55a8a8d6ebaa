"""As cheap as was asked for."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.progress import Progress, StopReason


@dataclass(frozen=True, slots=True)
class CostReached:
    """Ends a search once it has a plan at ``cost`` that leaves nothing out, or there can be none."""

    cost: int

    def __call__(self, now: Progress) -> StopReason | None:
        """Give exhaustion as the reason: such a plan is at hand, or the bound says that none exists."""
        found = now.best is not None and now.best <= self.cost and now.short == 0
        hopeless = now.bound is not None and now.bound > self.cost
        return StopReason.EXHAUSTED if found or hopeless else None
