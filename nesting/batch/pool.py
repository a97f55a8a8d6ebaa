"""Solving chains of groups, in this process or in several."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import queue
import signal
import threading
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, replace
from multiprocessing import forkserver, resource_tracker
from typing import TYPE_CHECKING, Any

from nesting.batch.split import take_from
from nesting.batch.watch import Flag, Watcher
from nesting.domain.plan import Alternative
from nesting.domain.progress import NEXT_BEST, Progress, StopReason
from nesting.planning.group import Group
from nesting.stop import AnyOf, Cancelled, MaxRuntime, Stop

if TYPE_CHECKING:
    from nesting.planning.settle import Settled

# Work grows about with the square of a group's distinct lengths. Below this sum of squares, starting
# processes (each loads its own engine, about a second) costs more than it saves: eight groups of 60
# lengths took 1.7 s in one process and 3.3 s in two.
SMALL_WORK = 60_000
POLL_SECONDS = 0.05
# After a cancel workers may hand in what they have; one that is still starting would take seconds to.
LAST_CALL_SECONDS = 0.2
# Where time is limited the next-best purchase may take so many seconds, or so many times what the plan took.
NEXT_BEST_SECONDS, NEXT_BEST_SHARE = 10.0, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """
    Seed, seconds for the whole batch (None: no limit) and processes (None: one a core).

    Parameters
    ----------
    growth
        Whether to look for the growth margins, which takes as many plans as there are halvings.
    next_best
        Whether to look for the next-best purchase, to weigh against the plan's.
    """

    seed: int = 0
    seconds: float | None = None
    processes: int | None = None
    growth: bool = False
    next_best: bool = True


def solve_chains(
    chains: Sequence[tuple[Group, ...]], limits: Limits, *, watcher: Watcher, cancel: Flag
) -> list[tuple[Settled, ...]]:
    """
    Solve every chain, smallest first, and give the results in the order of ``chains``.

    Time that a small group leaves over goes to the larger ones behind it. Results do not depend on
    the number of processes unless the time limit or a cancel cuts a search short.
    """
    watcher.on_start([group for chain in chains for group in chain])
    processes = limits.processes or os.cpu_count() or 1
    small = sum(_work(chain) for chain in chains) <= SMALL_WORK
    if len(chains) < 2 or processes < 2 or (small and limits.processes is None):
        return _solve_here(chains, limits, watcher, cancel)
    return _solve_in_processes(chains, limits, min(processes, len(chains)), watcher, cancel)


def _work(chain: tuple[Group, ...]) -> int:
    return sum(len(group.problem.lengths) ** 2 for group in chain)


def _share(limits: Limits, started: float, processes: int, groups_left: int) -> float | None:
    if limits.seconds is None:
        return None
    left = max(limits.seconds - (time.monotonic() - started), 0.0)
    return left * min(processes, groups_left) / groups_left


def _solve_here(
    chains: Sequence[tuple[Group, ...]], limits: Limits, watcher: Watcher, cancel: Flag
) -> list[tuple[Settled, ...]]:
    started = time.monotonic()
    solved: dict[int, tuple[Settled, ...]] = {}
    left = len(chains)
    for index in sorted(range(len(chains)), key=lambda i: (_work(chains[i]), i)):
        seconds = _share(limits, started, 1, left)
        solved[index] = solve_chain(chains[index], limits, seconds, watcher, cancel)
        left -= 1
    return [solved[i] for i in range(len(chains))]


def solve_chain(
    chain: tuple[Group, ...], limits: Limits, seconds: float | None, watcher: Any, cancel: Flag
) -> tuple[Settled, ...]:
    """Solve the groups of one chain in turn, each with what the ones before it left."""
    # The solver takes long to load.
    from nesting.planning.long_tail import with_longest_tail
    from nesting.planning.old_offcuts import with_oldest_offcuts
    from nesting.planning.patterns import with_fewer_patterns
    from nesting.planning.settle import settle

    seed = limits.seed
    lines: Counter[int] = Counter()
    tags: set[str] = set()
    done: list[Settled] = []
    for position, asked in enumerate(chain):
        group = take_from(asked, lines, tags) if done else asked
        stops: list[Stop] = [Cancelled(cancel)]
        if seconds is not None:
            # Each goal pursued after the cost has its own search, and its share of the time.
            searches = len(chain) - position + group.goals.fewer_patterns + group.goals.long_tail
            stops.append(MaxRuntime(seconds / searches))
        settled = settle(group, seed=seed, stop=AnyOf(*stops), observer=watcher)
        if group.goals.long_tail:
            settled = with_longest_tail(settled, seed=seed, stop=AnyOf(*stops))
        if group.goals.fewer_patterns:
            settled = with_fewer_patterns(settled, seed=seed, stop=AnyOf(*stops))
        settled = with_oldest_offcuts(settled)
        if limits.next_best:
            settled = replace(settled, alternative=_alternative(settled, seed, seconds, watcher, cancel))
        tags.update(group.problem.bars[u.bar].key for u in settled.result.best.uses)
        for offer, deal in zip(settled.group.market.offers, settled.bill.deals, strict=False):
            # Those kept were taken off what the others can have before.
            lines[offer.line] += max(deal.bars - offer.kept, 0)
        done.append(settled)
        watcher.on_done(group.problem.name)
    return tuple(done)


def _alternative(
    settled: Settled, seed: int, seconds: float | None, watcher: Any, cancel: Flag
) -> Alternative | None:
    """Give the next-best purchase; the plan comes first, so only what is proved has time for it."""
    from nesting.planning.alternative import next_best

    result = settled.result
    if not result.proved or result.short or cancel.is_set():
        return None
    watcher.on_progress(
        Progress(
            group=settled.group.problem.name,
            phase=NEXT_BEST,
            best=result.cost,
            bound=result.bound,
            rounds=result.report.rounds,
            elapsed=result.report.seconds,
        )
    )
    stops: list[Stop] = [Cancelled(cancel)]
    if seconds is not None:
        left = max(seconds - result.report.seconds, 0.0)
        # Seconds of work, so that a busy machine does not lose the proof; the whole limit is of the clock.
        worked = time.process_time() + max(NEXT_BEST_SECONDS, NEXT_BEST_SHARE * result.report.seconds)
        end = time.monotonic() + left
        stops.append(lambda _: StopReason.TIME if time.monotonic() > end else None)
        stops.append(lambda _: StopReason.TIME if time.process_time() > worked else None)
    return next_best(settled, seed=seed, stop=AnyOf(*stops))


class _Reporter:
    """Sends progress from a worker process to the caller's, dropping it when the way is full."""

    def __init__(self, channel: Any, cancel: Flag) -> None:
        self._channel = channel
        self._cancel = cancel

    def on_progress(self, now: Progress) -> None:
        if self._cancel.is_set():
            return  # nobody may be reading any more
        with contextlib.suppress(queue.Full):
            self._channel.put_nowait(now)

    def on_done(self, group: str) -> None:
        self._channel.put(group)


_worker: dict[str, Any] = {}


@contextlib.contextmanager
def _interrupts_held() -> Iterator[None]:
    """
    Hold Ctrl-C back while the server of the workers starts.

    Ctrl-C reaches the whole process group, and a server that is still starting would die of it with
    a traceback. The server and the workers inherit the hold; only the caller decides what it means.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    earlier = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, earlier)


def _start_worker(channel: Any, cancel: Any) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _worker["reporter"], _worker["cancel"] = _Reporter(channel, cancel), cancel
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    # Pool children outlive a killed parent otherwise.
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _solve_in_worker(chain: tuple[Group, ...], limits: Limits, seconds: float | None) -> tuple[Settled, ...]:
    return solve_chain(chain, limits, seconds, _worker["reporter"], _worker["cancel"])


def _solve_in_processes(
    chains: Sequence[tuple[Group, ...]], limits: Limits, processes: int, watcher: Watcher, cancel: Flag
) -> list[tuple[Settled, ...]]:
    started = time.monotonic()
    resource_tracker.ensure_running()  # first: starting it lets held interrupts go
    with _interrupts_held():
        methods = multiprocessing.get_all_start_methods()
        context: Any = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
        if "forkserver" in methods:
            forkserver.ensure_running()
        channel = context.Queue(maxsize=10_000)
        stopping = context.Event()
    waiting = sorted(range(len(chains)), key=lambda i: (_work(chains[i]), i))
    solved: dict[int, tuple[Settled, ...]] = {}
    running: dict[Future[tuple[Settled, ...]], int] = {}
    pool = ProcessPoolExecutor(
        processes, mp_context=context, initializer=_start_worker, initargs=(channel, stopping)
    )
    try:
        while (waiting or running) and not cancel.is_set():
            while waiting and len(running) < processes:
                seconds = _share(limits, started, processes, len(waiting) + len(running))
                index = waiting.pop(0)
                running[pool.submit(_solve_in_worker, chains[index], limits, seconds)] = index
            _load_solver()
            finished, _ = wait(running, timeout=POLL_SECONDS, return_when=FIRST_COMPLETED)
            for future in finished:
                solved[running.pop(future)] = future.result()
            _forward(channel, watcher)
        if waiting or running:
            stopping.set()
            finished, _ = wait(running, timeout=LAST_CALL_SECONDS)
            for future in finished:
                solved[running.pop(future)] = future.result()
            _forward(channel, watcher)
            for index in (*running.values(), *waiting):
                solved[index] = solve_chain(chains[index], limits, None, watcher, cancel)
    finally:
        # Workers that are still starting need channel and flag; the answer need not wait for their end.
        end = threading.Thread(target=_end, args=(pool, channel, stopping))
        end.start()
        if not cancel.is_set():
            end.join()
    _forward(channel, watcher)
    return [solved[i] for i in range(len(chains))]


def _end(pool: ProcessPoolExecutor, channel: Any, stopping: Any) -> None:
    """End the workers, keeping alive what they hold on to meanwhile."""
    stopping.set()
    pool.shutdown(wait=True, cancel_futures=True)
    del channel


def _load_solver() -> None:
    """Load here what a cancel will need, while the workers start and this process has nothing else to do."""
    import nesting.planning.settle  # noqa: F401


def _forward(channel: Any, watcher: Watcher) -> None:
    with contextlib.suppress(queue.Empty):
        while True:
            news = channel.get_nowait()
            if isinstance(news, Progress):
                watcher.on_progress(news)
            else:
                watcher.on_done(news)
