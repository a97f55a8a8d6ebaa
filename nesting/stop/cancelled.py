"""Somebody asked for an end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from nesting.domain.progress import Progress, StopReason


class Flag(Protocol):
    """Anything that can be raised from outside: a thread's event, a process's, a row of a table."""

    def is_set(self) -> bool:
        """Whether the end has been asked for."""
        ...


@dataclass(frozen=True, slots=True)
class Cancelled:
    """Ends the search when ``flag`` is set."""

    flag: Flag

    def __call__(self, now: Progress) -> StopReason | None:
        """Give the cancellation as the reason once the flag is set."""
        return StopReason.CANCELLED if self.flag.is_set() else None
