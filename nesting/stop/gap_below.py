"""Good enough."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.progress import Progress, StopReason
from nesting.errors import ProblemError


@dataclass(frozen=True, slots=True)
class GapBelow:
    """
    Ends the search of a group once (best - bound) / best is at most ``share``, everything placed.

    Raises
    ------
    ProblemError
        When the share is negative.
    """

    share: float

    def __post_init__(self) -> None:
        """Refuse a gap below nothing."""
        if self.share < 0:
            raise ProblemError(f"A gap of {self.share} cannot be reached.")

    def __call__(self, now: Progress) -> StopReason | None:
        """Give proof or exhaustion as the reason once the gap is small enough."""
        if now.best is None or now.bound is None or now.short:
            return None
        if now.bound >= now.best:
            return StopReason.PROVED
        return StopReason.EXHAUSTED if now.best - now.bound <= self.share * now.best else None
