"""The promises, each measured on one case; seconds from the caller's side of the call."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from benchmarks.speed.orders import order_book
from nesting.batch.pool import Limits, solve_chains
from nesting.batch.run import plan_request
from nesting.batch.split import split
from nesting.batch.watch import Unwatched
from nesting.domain.plan import Plan
from nesting.domain.problem import Problem
from nesting.domain.progress import Progress
from nesting.solver.solve import solve
from nesting.stop import Cancelled, MaxRuntime
from nesting.takeoff.take_off import take_off


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """
    One measurement.

    Parameters
    ----------
    promise
        What is promised, in words.
    case
        What it was measured on.
    seconds
        What was measured; None where the promise is no time.
    allowed
        Seconds promised; None where the promise is no time.
    kept
        Whether the promise was kept.
    """

    promise: str
    case: str
    seconds: float | None = None
    allowed: float | None = None
    kept: bool

    @classmethod
    def timed(cls, promise: str, case: str, seconds: float, allowed: float) -> Finding:
        """Give a measurement whose promise is a time."""
        return cls(
            promise=promise, case=case, seconds=round(seconds, 4), allowed=allowed, kept=seconds <= allowed
        )


class Trace:
    """Notes the first whole answer, and whether cost or bound ever went the wrong way."""

    def __init__(self) -> None:
        self.began = time.perf_counter()
        self.first: float | None = None
        self.worse = 0
        self._last: Progress | None = None

    def on_progress(self, now: Progress) -> None:
        """Compare with what was told before."""
        if self.first is None and now.short == 0 and now.best:
            self.first = time.perf_counter() - self.began
        last = self._last
        if last is not None and self.first is not None:
            self.worse += (now.short, now.best or 0) > (last.short, last.best or 0)
            self.worse += (now.bound or 0) < (last.bound or 0)
        self._last = now


FIRST_SECONDS = 0.05
STOP_SECONDS = 0.5
LIMIT_SHARE = 0.05


def first_answer(problem: Problem, *, seconds: float, where: str = "") -> tuple[Finding, Finding]:
    """Time the first whole plan, and say whether what came after it was ever worse."""
    trace = Trace()
    solve(problem, seed=1, stop=MaxRuntime(seconds), observer=trace)
    case = problem.name + where
    first = seconds if trace.first is None else trace.first
    return (
        Finding.timed("an answer within 50 ms", case, first, FIRST_SECONDS),
        Finding(promise="the best plan and the bound only improve", case=case, kept=trace.worse == 0),
    )


def limit_kept(problem: Problem, *, seconds: float) -> Finding:
    """Time a search that is given so many seconds."""
    began = time.perf_counter()
    solve(problem, seed=1, stop=MaxRuntime(seconds))
    took = time.perf_counter() - began
    allowed = round(STOP_SECONDS + (1 + LIMIT_SHARE) * seconds, 3)
    return Finding.timed(
        "time limit kept within 0.5 s and 5 %", f"{problem.name}, {seconds:g} s", took, allowed
    )


def cancel_heard(problem: Problem, *, after: float) -> Finding | None:
    """Time from a cancel to the answer; None when the search was over before."""

    def run(flag: threading.Event) -> None:
        solve(problem, seed=1, stop=Cancelled(flag))

    return _cancelled(f"{problem.name}, after {after:g} s", run, after)


def batch_cancel_heard(*, materials: int, lengths: int, processes: int, after: float) -> Finding | None:
    """
    Time from a cancel of a whole order book to the last group's plan; None when the book was done before.

    In a fresh process the worker processes, too, are then still starting. Bars, labels and audit come after
    the search and are the same whether it was cancelled or not.
    """
    request = order_book(materials=materials, pieces=3 * lengths * materials, lengths=lengths)
    chains = split(request, take_off(request).pieces).chains

    def run(flag: threading.Event) -> None:
        solve_chains(chains, Limits(processes=processes), watcher=Unwatched(), cancel=flag)

    case = f"{materials} materials of {lengths} lengths, {processes} processes, cold, after {after:g} s"
    return _cancelled(case, run, after)


def _cancelled(case: str, run: Callable[[threading.Event], None], after: float) -> Finding | None:
    flag = threading.Event()
    raised: list[float] = []

    def cancel() -> None:
        raised.append(time.perf_counter())
        flag.set()

    timer = threading.Timer(after, cancel)
    timer.start()
    run(flag)
    ended = time.perf_counter()
    timer.cancel()
    if not raised:
        return None
    return Finding.timed("cancel heard within 0.5 s", case, max(ended - raised[0], 0.0), STOP_SECONDS)


def one_plan_a_seed(*, materials: int, lengths: int, processes: tuple[int, ...]) -> Finding:
    """Say whether plans made by several numbers of processes are the same in everything but their seconds."""
    request = order_book(materials=materials, pieces=10 * lengths * materials, lengths=lengths)
    plans = [_timeless(plan_request(request, Limits(seed=3, processes=n))) for n in processes]
    case = f"{materials} materials of {lengths} lengths, {', '.join(map(str, processes))} processes"
    return Finding(
        promise="same seed, same plan at any number of processes",
        case=case,
        kept=all(plan == plans[0] for plan in plans),
    )


def _timeless(plan: Plan) -> Plan:
    return replace(plan, groups=tuple(replace(group, seconds=0.0) for group in plan.groups))
