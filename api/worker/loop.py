"""One worker: a loop that claims, listens to its solver processes and hands results in."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from typing import Any

from sqlalchemy.exc import SQLAlchemyError

from api.processes.child import Child, ChildDied
from api.processes.solver import Cancel, Done, Failed, Ready
from api.store.engine import Store
from api.worker import queue
from api.worker.presence import beat, leave, new_name
from api.worker.queue import Claim, Terms, work_of

log = logging.getLogger(__name__)

POLL_SECONDS = 0.25
LOOK_SECONDS = 0.5  # how often claims are renewed, progress is stored and cancels are seen
GRACE_SECONDS = 60.0  # a search that is asked to end does so between two of its steps
PATIENCE = 10  # times the clock may take what the processor may, before a search counts as stuck
SOLVER_NICE = 10
MOST_PAUSE = 5


@dataclass(slots=True)
class _Bench:
    """One solver process and the claim it is at work on."""

    child: Child
    ready: bool = False
    claim: Claim | None = None
    started: float = 0.0
    used: float = 0.0
    cancelled: bool = False
    progress: dict[str, Any] = field(default_factory=dict)

    @property
    def overdue(self) -> bool:
        """Whether the search has used up its time of the processor; a busy machine fails nobody's plan."""
        assert self.claim is not None
        allowed = self.claim.seconds + GRACE_SECONDS
        past = time.monotonic() - self.started
        if past <= allowed:
            return False
        return past > PATIENCE * allowed or self.child.processor_seconds() - self.used > allowed


class Worker:
    """
    Plans whatever waits in the store until it is told to stop.

    Parameters
    ----------
    solvers
        Solver processes, one plan each.
    terms
        Leases and when a plan is given up.
    on_finished
        Told the id of every plan that has come to an end here.
    """

    def __init__(
        self, store: Store, *, solvers: int, terms: Terms, on_finished: Callable[[str], None] = lambda _: None
    ) -> None:
        self.name = new_name()
        self._store, self._terms, self._on_finished = store, terms, on_finished
        self._benches = [_Bench(_new_child()) for _ in range(solvers)]
        self._looked = self._polled = self._beat = 0.0
        self._stopping = False
        self._poked = True
        self._failures = 0

    def poke(self) -> None:
        """Say that there may be something to do."""
        self._poked = True

    def stop(self) -> None:
        """End the loop soon; what is not finished goes back into the queue."""
        self._stopping = True

    def run(self, wake: Connection | None = None) -> None:
        """
        Work until stopped.

        Parameters
        ----------
        wake
            Any message on it makes the worker look up at once.
        """
        try:
            while not self._stopping:
                try:
                    self._turn(wake)
                except SQLAlchemyError:
                    # The database is away: claims are fenced, so going on is safe.
                    log.exception("the database did not answer; trying again")
                    time.sleep(1.0)
        finally:
            self._leave()

    def _turn(self, wake: Connection | None) -> None:
        now = time.monotonic()
        if now - self._beat >= self._terms.lease_seconds / 3:
            beat(self._store, self.name, len(self._benches))
            self._beat = now
        if self._poked or now - self._polled >= POLL_SECONDS:
            self._poked, self._polled = False, now
            self._claim()
        if now - self._looked >= LOOK_SECONDS:
            self._looked = now
            self._look()
        watched = [bench.child.connection for bench in self._benches]
        ready = wait([*watched, wake] if wake is not None else watched, POLL_SECONDS / 2)
        while wake is not None and wake.poll():
            wake.recv_bytes()
        for bench in self._benches:
            if bench.child.connection in ready:
                self._hear(bench)

    def _claim(self) -> None:
        for bench in self._benches:
            if bench.claim is not None or not bench.ready:
                continue
            if not queue.anything_to_do(self._store):
                return
            claimed = queue.claim(self._store, self.name, self._terms)
            if claimed is None:
                return
            bench.claim, bench.cancelled, bench.progress = claimed, False, {}
            bench.started, bench.used = time.monotonic(), bench.child.processor_seconds()
            try:
                bench.child.send(work_of(claimed))
                if claimed.cancelled:
                    self._cancel(bench)
            except ChildDied:
                self._replace(bench)

    def _look(self) -> None:
        busy = [bench for bench in self._benches if bench.claim]
        if not busy:
            return
        held = {(b.claim.plan_id, b.claim.attempt) for b in busy if b.claim}
        news = {b.claim.plan_id: b.progress for b in busy if b.claim and b.progress}
        standing = queue.renew(self._store, self.name, held, news, self._terms)
        for bench in busy:
            assert bench.claim is not None
            if (bench.claim.plan_id, bench.claim.attempt) not in standing.mine:
                log.warning("plan %s is no longer ours; dropping it", bench.claim.plan_id)
                bench.claim = None
                self._replace(bench)
            elif bench.claim.plan_id in standing.cancelled:
                self._cancel(bench)
            elif bench.overdue:
                self._overdue(bench)

    def _cancel(self, bench: _Bench) -> None:
        if not bench.cancelled and bench.claim is not None:
            bench.cancelled = True
            bench.child.send(Cancel(work_of(bench.claim).tag_prefix))

    def _overdue(self, bench: _Bench) -> None:
        claimed = bench.claim
        assert claimed is not None
        bench.claim = None
        self._replace(bench)
        queue.fail(
            self._store, self.name, claimed.plan_id, claimed.attempt, "The search did not end in its time."
        )
        self._on_finished(claimed.plan_id)

    def _hear(self, bench: _Bench) -> None:
        try:
            message = bench.child.receive()
        except ChildDied:
            self._replace(bench)
            return
        if isinstance(message, Ready):
            bench.ready, self._failures, self._poked = True, 0, True
            return
        if isinstance(message, dict):
            bench.progress = message
            return
        claimed, bench.claim = bench.claim, None
        if claimed is None:
            return
        if isinstance(message, Done):
            queue.finish(self._store, self.name, claimed.plan_id, claimed.attempt, message.planned)
        elif isinstance(message, Failed):
            queue.fail(self._store, self.name, claimed.plan_id, claimed.attempt, message.reason)
        self._on_finished(claimed.plan_id)
        self._poked = True

    def _replace(self, bench: _Bench) -> None:
        """Start a new process for one that has died or is of no use any more."""
        claimed, bench.claim = bench.claim, None
        bench.child.end()
        if not bench.ready:
            # It could not even start: no plan's fault, and no use in trying again at once.
            self._failures += 1
            log.error("a solver process could not start, %d time(s) in a row", self._failures)
            time.sleep(min(self._failures, MOST_PAUSE))
        bench.child, bench.ready = _new_child(), False
        if claimed is not None:
            log.error("the solver process died while planning %s", claimed.plan_id)
            queue.give_back(
                self._store, self.name, claimed.plan_id, claimed.attempt, self._terms, crashed=True
            )
            self._on_finished(claimed.plan_id)
            self._poked = True

    def _leave(self) -> None:
        for bench in self._benches:
            bench.child.end()
        try:
            queue.give_back_all(self._store, self.name)
            leave(self._store, self.name)
        except SQLAlchemyError:
            log.exception("could not take leave of the database; the leases will run out")


def _new_child() -> Child:
    return Child("api.processes.solver", nice=SOLVER_NICE)
