"""Chains of groups in several processes."""

from __future__ import annotations

import queue
import threading
from collections.abc import Sequence

import pytest

from benchmarks.speed.orders import order_book
from nesting.batch import pool
from nesting.batch.pool import Limits, solve_chains
from nesting.batch.split import split
from nesting.batch.watch import Unwatched
from nesting.domain.progress import NEXT_BEST, Progress, StopReason
from nesting.planning.group import Group
from nesting.takeoff.take_off import take_off
from tests.batch.shop import order


def _chains() -> tuple[tuple[Group, ...], ...]:
    request = order_book(materials=3, pieces=90, lengths=10)
    return split(request, take_off(request).pieces).chains


def test_a_cancel_does_not_wait_for_workers_that_are_starting(monkeypatch: pytest.MonkeyPatch) -> None:
    """Starting a process may take seconds; the groups it was to solve still get their first plan."""
    flag = threading.Event()
    monkeypatch.setattr(pool, "LAST_CALL_SECONDS", 0.0)
    # The flag is raised once the first groups are handed to workers.
    monkeypatch.setattr(pool, "_load_solver", flag.set)
    chains = _chains()
    solved = solve_chains(chains, Limits(processes=2), watcher=Unwatched(), cancel=flag)
    assert flag.is_set()
    assert len(solved) == len(chains)
    for (one,) in solved:
        assert not any(one.result.best.short)
        assert one.result.ended in (StopReason.CANCELLED, StopReason.PROVED)


def test_every_group_is_reported_done_once() -> None:
    """Progress shown to people must end, with workers as without."""

    class Counting(Unwatched):
        def __init__(self) -> None:
            self.done: list[str] = []
            self.started = 0

        def on_start(self, groups: Sequence[Group]) -> None:
            self.started = len(groups)

        def on_done(self, group: str) -> None:
            self.done.append(group)

    for processes in (1, 2):
        counting = Counting()
        solve_chains(_chains(), Limits(processes=processes), watcher=counting, cancel=threading.Event())
        assert len(counting.done) == len(set(counting.done)) == counting.started == 3


def test_a_proved_plan_is_told_before_the_next_best_is_looked_for() -> None:
    """The search behind the plan may take longer than the plan, and is no doubt about it."""

    class Noting(Unwatched):
        def __init__(self) -> None:
            self.seen: list[Progress] = []

        def on_progress(self, now: Progress) -> None:
            self.seen.append(now)

    noting = Noting()
    request = order({1176: 2, 976: 3, 416: 2}, bars={2000: "12.80", 3000: "18.60"})
    chains = split(request, take_off(request).pieces).chains
    ((one,),) = solve_chains(chains, Limits(), watcher=noting, cancel=threading.Event())
    (last,) = (now for now in noting.seen if now.phase == NEXT_BEST)
    assert (last.best, last.bound) == (one.result.cost, one.result.cost)
    assert one.alternative is not None


def test_the_next_best_is_not_looked_for_where_nobody_asks() -> None:
    """It may take longer than the plan."""
    request = order({1176: 2, 976: 3, 416: 2}, bars={2000: "12.80", 3000: "18.60"})
    chains = split(request, take_off(request).pieces).chains
    ((one,),) = solve_chains(chains, Limits(next_best=False), watcher=Unwatched(), cancel=threading.Event())
    assert one.result.proved
    assert one.alternative is None


def test_a_worker_is_silent_after_a_cancel() -> None:
    """Nobody reads any more then, and a full pipe would keep the worker from ending."""
    flag = threading.Event()
    channel: queue.Queue[object] = queue.Queue()
    reporter = pool._Reporter(channel, flag)  # noqa: SLF001 - lives in the worker only
    reporter.on_progress(Progress())
    flag.set()
    reporter.on_progress(Progress())
    assert channel.qsize() == 1
