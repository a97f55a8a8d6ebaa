"""Who may watch a search."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from nesting.domain.progress import Progress


class Observer(Protocol):
    """Gets told when a better plan, a better bound or a new step of the recipe is reached."""

    def on_progress(self, now: Progress) -> None:
        """Take notice; must not raise and should be quick."""
        ...


@dataclass(frozen=True, slots=True)
class _Silent:
    """Takes no notice."""

    def on_progress(self, now: Progress) -> None:
        pass


SILENT: Observer = _Silent()
