"""A limit in seconds."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.progress import Progress, StopReason
from nesting.errors import ProblemError


@dataclass(frozen=True, slots=True)
class MaxRuntime:
    """
    Ends the search of a group after so many seconds; keeps no clock of its own, so it can be reused.

    Raises
    ------
    ProblemError
        When the limit is negative.
    """

    seconds: float

    def __post_init__(self) -> None:
        """Refuse a limit before the start."""
        if self.seconds < 0:
            raise ProblemError(f"A time limit of {self.seconds} s is before the start.")

    def __call__(self, now: Progress) -> StopReason | None:
        """Give the time limit as the reason once it has passed."""
        return StopReason.TIME if now.elapsed >= self.seconds else None
