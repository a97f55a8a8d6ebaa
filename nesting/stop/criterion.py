"""What every stop criterion answers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from nesting.domain.progress import Progress, StopReason


class Stop(Protocol):
    """Says, from a snapshot of the search alone, whether it should end and why."""

    def __call__(self, now: Progress) -> StopReason | None:
        """Give the reason to end, or None to go on."""
        ...


@dataclass(frozen=True, slots=True)
class _Never:
    """Lets the search run until it has a proof or has exhausted its own limits."""

    def __call__(self, now: Progress) -> StopReason | None:
        return None


NEVER: Stop = _Never()
