"""Kill the service at many points, mid-solve, mid-release, mid-report and mid-re-plan; look what is left."""

from __future__ import annotations

import random
import threading
import time
from collections import Counter

from api.store.engine import Store
from benchmarks.service.chains import not_conserved
from benchmarks.service.invariants import broken
from benchmarks.service.processes import kill, solvers_below, workers_below
from benchmarks.service.server import Server, wait_until
from benchmarks.service.shop import ENDED, PHASES, Outcome, Shop, stock_up
from benchmarks.service.steady_client import SteadyClient

VICTIMS = ("server", "worker", "solver")


def run(database: str, *, kills: int, seed: int = 0, shops: int = 3) -> Outcome:
    """
    Kill so many times while people work, then let everything come to its end and check it.

    Parameters
    ----------
    kills
        A quarter each in the middle of a solve, a release, a report and a re-plan; server, its worker and
        a solver in turn.
    """
    draw = random.Random(seed)
    outcome = Outcome()
    moment = _Moment()
    server = Server(database, solvers=1, lease_seconds=2, rate=0, max_crashes=1_000)
    server.start()
    try:
        server.await_ready()
        stock_up(SteadyClient(server.port))
        server.start_worker()
        people = [Shop(server.port, n + 1, outcome, moment.reached) for n in range(shops)]
        threads = [threading.Thread(target=shop.run, daemon=True) for shop in people]
        for thread in threads:
            thread.start()
        for number in range(kills):
            if all(shop.fault is not None for shop in people):
                break
            phase, victim = PHASES[number % 4], VICTIMS[number % 3]
            moment.wait_for(phase, 60)
            time.sleep(draw.uniform(0, 0.03))
            outcome.kills[f"{victim} mid-{phase}"] += 1
            _kill(server, victim)
        for shop in people:
            shop.stop.set()
        for thread in threads:
            thread.join(180)
        for shop in people:
            if shop.fault is not None:
                outcome.broken.append(f"somebody could not go on: {shop.fault!r}")
        _settle(SteadyClient(server.port), outcome)
    finally:
        server.stop()
    store = Store(database)
    outcome.broken += broken(store, frozenset(outcome.accepted))
    outcome.broken += not_conserved(store, outcome.followers, outcome.delivered)
    store.close()
    return outcome


class _Moment:
    """Lets the killer wait until somebody has just begun something."""

    def __init__(self) -> None:
        self._events = {phase: threading.Event() for phase in PHASES}

    def reached(self, phase: str) -> None:
        self._events[phase].set()

    def wait_for(self, phase: str, seconds: float) -> None:
        self._events[phase].clear()
        self._events[phase].wait(seconds)


def _kill(server: Server, victim: str) -> None:
    assert server.process is not None
    process = server.process.pid
    if victim == "server":
        server.kill()
        server.start()
    elif victim == "worker":
        outside = server.workers.pop()
        for one in (*workers_below(process), outside.pid):
            kill(one)
        outside.wait()
        server.start_worker()
    else:
        for one in (*solvers_below(process), *(s for w in server.workers for s in solvers_below(w.pid))):
            kill(one)


def _settle(client: SteadyClient, outcome: Outcome) -> None:
    """Wait until no plan is to do any more, without anybody helping."""

    def done() -> bool:
        states = [client.ask("GET", f"/v1/plans/{plan}")[1]["state"] for plan in sorted(outcome.accepted)]
        outcome.states = Counter(states)
        return all(state in ENDED for state in states)

    try:
        wait_until(done, 120, "")
    except TimeoutError:
        outcome.broken.append(f"plans never came to an end: {outcome.states}")
