"""The process that plans: a request, or a plan to go on from, in; progress, then the audited plan out."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from api.processes.child import serve
from api.processes.record import Planned, planned
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.batch.watch import Flag, Watcher
from nesting.domain.plan import Plan
from nesting.domain.progress import Progress
from nesting.planning.group import Group

NEWS_SECONDS = 0.25


@dataclass(frozen=True, slots=True)
class Work:
    """
    One plan to make.

    Parameters
    ----------
    request
        Its request document.
    follow
        What it goes on from, as a document; empty for a plan of its own.
    tag_prefix
        Start of its offcuts' tags; also the name by which it is cut short.
    """

    request: str
    seed: int
    seconds: float
    tag_prefix: str
    follow: str = ""


@dataclass(frozen=True, slots=True)
class Cancel:
    """Asks for the best plan so far of the work that is named."""

    tag_prefix: str


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


@dataclass(slots=True)
class _Bench:
    """The work at hand, and whether it is to be cut short; a cancel that comes late must not hit the next."""

    lock: threading.Lock = field(default_factory=threading.Lock)
    cancel: threading.Event = field(default_factory=threading.Event)
    work: str = ""
    asked: str = ""

    def begin(self, work: Work) -> threading.Event:
        """Take up a piece of work; give the flag that cuts it short."""
        with self.lock:
            self.work, self.cancel = work.tag_prefix, threading.Event()
            if self.asked == self.work:  # asked before it was begun
                self.cancel.set()
            return self.cancel

    def cut_short(self, word: Cancel) -> None:
        """Set the flag of the work that is meant."""
        with self.lock:
            self.asked = word.tag_prefix
            if self.work == word.tag_prefix:
                self.cancel.set()


_bench = _Bench()


def _on_word(message: Any) -> bool:
    if isinstance(message, Cancel):
        _bench.cut_short(message)
        return True
    return False


def _work(message: Work, send: Callable[[Any], None]) -> Done | Failed:
    from nesting.errors import NestingError

    flag = _bench.begin(message)
    try:
        return Done(make(message, watcher=_Teller(send), cancel=flag))
    except NestingError as why:
        return Failed(str(why))


def make(work: Work, *, watcher: Watcher | None = None, cancel: Flag | None = None) -> Planned:
    """
    Make a plan and set it out for the store.

    Raises
    ------
    InputRefused
        When the documents do not fit together.
    SolverFault
        When the plan fails its audit, which no input should be able to cause.
    """
    from nesting.exchange import read_request

    limits = Limits(seed=work.seed, seconds=work.seconds, processes=1)
    if work.follow:
        return _make_following(work, limits, watcher, cancel)
    request = read_request(work.request, source="request")
    plan = plan_request(request, limits, watcher=watcher, cancel=cancel)
    return planned(with_tags(plan, work.tag_prefix))


def _make_following(work: Work, limits: Limits, watcher: Watcher | None, cancel: Flag | None) -> Planned:
    from api.processes.follow import NewTags, read_follow
    from nesting.batch.replan import replan

    follow = read_follow(work.follow)
    made = replan(follow.before, follow.report, limits, freely=follow.freely, watcher=watcher, cancel=cancel)
    tags = NewTags.of(follow, made.plan, work.tag_prefix)
    offers = [tags.in_offer(offer) for offer in made.offers]
    return planned(tags.in_plan(made.plan), offers=offers, alternative=made.alternative)


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
