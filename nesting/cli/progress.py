"""Live progress of a batch on a terminal; silent when piped. Ctrl-C keeps the best plan so far."""

from __future__ import annotations

import contextlib
import signal
import threading
from collections.abc import Iterator, Sequence
from types import FrameType

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeElapsedColumn

from nesting.batch.watch import Unwatched, Watcher
from nesting.domain import progress
from nesting.money import money_text
from nesting.planning.group import Group


class Shown:
    """A watcher that moves a bar: groups done, and the phase, best, bound and gap of the latest."""

    def __init__(self, bar: Progress) -> None:
        self._bar = bar
        self._task: TaskID | None = None
        self._priced: set[str] = set()

    def on_start(self, groups: Sequence[Group]) -> None:
        """Show an empty bar for so many groups."""
        self._priced = {group.problem.name for group in groups if group.priced}
        self._task = self._bar.add_task("", total=len(groups), state="starting")

    def on_progress(self, now: progress.Progress) -> None:
        """Show how the group that reported last stands."""
        if self._task is not None:
            self._bar.update(self._task, state=state_text(now, priced=now.group in self._priced))

    def on_done(self, group: str) -> None:
        """Move the bar by one group."""
        if self._task is not None:
            self._bar.update(self._task, advance=1, state=f"{group}: done")


def state_text(now: progress.Progress, *, priced: bool) -> str:
    """Give one group's state in one line: phase, best and bound in money or bars, gap."""
    amount = money_text if priced else str
    if now.phase == progress.NEXT_BEST and now.best is not None:
        return f"{now.group}: proved, {amount(now.best)}; looking for the next best"
    parts = [f"{now.group}: {now.phase}"]
    if now.best is not None:
        parts.append(f"best {amount(now.best)}")
    if now.bound is not None:
        parts.append(f"bound {amount(now.bound)}")
    if now.best and now.bound is not None:
        parts.append(f"gap {max(now.best - now.bound, 0) / now.best:.2%}")
    return ", ".join(parts)


@contextlib.contextmanager
def watching(console: Console) -> Iterator[tuple[Watcher, threading.Event]]:
    """Give a watcher for the console and a flag that the first Ctrl-C sets; the second one aborts."""
    cancel = threading.Event()
    earlier = signal.getsignal(signal.SIGINT)

    def keep_best(signum: int, frame: FrameType | None) -> None:
        if cancel.is_set():
            raise KeyboardInterrupt
        cancel.set()
        console.print("Stopping; the best plan so far is kept. Ctrl-C again aborts.")

    in_main_thread = threading.current_thread() is threading.main_thread()
    if in_main_thread:
        signal.signal(signal.SIGINT, keep_best)
    try:
        if not console.is_terminal:
            yield Unwatched(), cancel
            return
        with Progress(
            TextColumn("Nesting"),
            BarColumn(bar_width=24),
            MofNCompleteColumn(),
            TextColumn("{task.fields[state]}", markup=False),
            TimeElapsedColumn(),
            console=console,
            transient=True,
        ) as bar:
            yield Shown(bar), cancel
    finally:
        if in_main_thread:
            signal.signal(signal.SIGINT, earlier)
