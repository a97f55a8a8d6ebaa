"""What a caller of a batch may see and do while it runs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from nesting.domain.progress import Progress
from nesting.planning.group import Group


class Watcher(Protocol):
    """Is told how each group stands; must return at once."""

    def on_start(self, groups: Sequence[Group]) -> None:
        """Take note of the groups to come."""

    def on_progress(self, now: Progress) -> None:
        """Take note of a group's state."""

    def on_done(self, group: str) -> None:
        """Take note that a group is finished."""


class Flag(Protocol):
    """Anything with ``is_set``: an event of a thread or of a process."""

    def is_set(self) -> bool:
        """Whether the user wants the best plan so far."""


class Unwatched:
    """A watcher that looks away."""

    def on_start(self, groups: Sequence[Group]) -> None:
        """Do nothing."""

    def on_progress(self, now: Progress) -> None:
        """Do nothing."""

    def on_done(self, group: str) -> None:
        """Do nothing."""
