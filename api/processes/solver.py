"""The process that plans: a request document in, progress, then the audited plan's document out."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from api.processes.child import serve
from api.processes.record import Planned, planned
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.plan import Plan
from nesting.domain.progress import Progress
from nesting.planning.group import Group

NEWS_SECONDS = 0.25


@dataclass(frozen=True, slots=True)
class Work:
    """One plan to make: its request document, seed, seconds and the start of its offcuts' tags."""

    request: str
    seed: int
    seconds: float
    tag_prefix: str


@dataclass(frozen=True, slots=True)
class Cancel:
    """Asks for the best plan so far."""


@dataclass(frozen=True, slots=True)
class Ready:
    """Says that work may come: everything is loaded and has been tried once."""


@dataclass(frozen=True, slots=True)
class Done:
    """The plan."""

    planned: Planned


@dataclass(frozen=True, slots=True)
class Failed:
    """No plan can be made, for a reason that trying again would not change."""

    reason: str


class _Teller:
    """Sends how the search stands, a few times a second at most."""

    def __init__(self, send: Callable[[Any], None]) -> None:
        self._send, self._last = send, 0.0
        self._groups, self._done = 0, 0
        self._now: dict[str, Any] = {}
        self._priced: frozenset[str] = frozenset()

    def on_start(self, groups: Sequence[Group]) -> None:
        self._groups = len(groups)
        self._priced = frozenset(group.problem.name for group in groups if group.priced)
        self._tell(force=True)

    def on_progress(self, now: Progress) -> None:
        gap = None
        if now.best and now.bound is not None:
            gap = round(max(now.best - now.bound, 0) / now.best, 6)
        self._now = {
            "group": now.group,
            "phase": now.phase,
            "best": now.best,
            "bound": now.bound,
            "gap": gap,
            "priced": now.group in self._priced,
        }
        self._tell()

    def on_done(self, group: str) -> None:
        self._done += 1
        self._tell()

    def _tell(self, *, force: bool = False) -> None:
        at = time.monotonic()
        if force or at - self._last >= NEWS_SECONDS:
            self._last = at
            self._send({"groups": self._groups, "done": self._done, **self._now})


_cancel = threading.Event()


def _on_word(message: Any) -> bool:
    if isinstance(message, Cancel):
        _cancel.set()
        return True
    return False


def _work(message: Work, send: Callable[[Any], None]) -> Done | Failed:
    from nesting.errors import NestingError
    from nesting.exchange import read_request

    try:
        request = read_request(message.request, source="request")
        limits = Limits(seed=message.seed, seconds=message.seconds, processes=1)
        plan = plan_request(request, limits, watcher=_Teller(send), cancel=_cancel)
        return Done(planned(with_tags(plan, message.tag_prefix)))
    except NestingError as why:
        return Failed(str(why))
    finally:
        _cancel.clear()


def with_tags(plan: Plan, prefix: str) -> Plan:
    """Give the plan's new offcuts tags that no other plan gives: two plans of one request differ."""
    groups = []
    for group in plan.groups:
        bars = tuple(
            replace(bar, tail_tag=f"{prefix}-{bar.number}") if bar.tail_tag else bar for bar in group.bars
        )
        groups.append(replace(group, bars=bars))
    return replace(plan, groups=tuple(groups))


def main() -> None:
    """Be such a process."""
    _warm()
    serve(_work, _on_word, greeting=Ready())


def _warm() -> None:
    """Plan a trifle, so that the first customer does not pay for imports and compiled kernels."""
    from nesting.domain.request import Request
    from nesting.domain.rules import DEFAULT_SAW
    from nesting.domain.runs import PieceLine
    from nesting.domain.stock import StockLine
    from nesting.exchange import read_request, write_plan, write_request
    from nesting.units import mm

    lines = tuple(
        PieceLine(job="warm", id=f"L{n}", family="F", quantity=n % 7 + 1, length=mm(300 + 37 * n))
        for n in range(1, 30)
    )
    request = Request(piece_lines=lines, stock=(StockLine(family="F", length=mm(2500)),), saw=DEFAULT_SAW)
    write_plan(
        plan_request(read_request(write_request(request), source="warm"), Limits(seconds=5, processes=1))
    )
