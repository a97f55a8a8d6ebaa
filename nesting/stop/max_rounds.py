"""A limit in rounds, the same on every machine."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.progress import Progress, StopReason
from nesting.errors import ProblemError


@dataclass(frozen=True, slots=True)
class MaxRounds:
    """
    Ends the search of a group after so many pricing rounds.

    Raises
    ------
    ProblemError
        When the number is negative.
    """

    rounds: int

    def __post_init__(self) -> None:
        """Refuse a negative number."""
        if self.rounds < 0:
            raise ProblemError(f"{self.rounds} rounds cannot be counted.")

    def __call__(self, now: Progress) -> StopReason | None:
        """Give an exhausted search as the reason once the rounds are used up."""
        return StopReason.EXHAUSTED if now.rounds >= self.rounds else None
