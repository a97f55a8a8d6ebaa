"""Kill the service at many points, mid-solve, mid-release and mid-report, and look what is left."""

from __future__ import annotations

import random
import threading
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from api.store.engine import Store
from benchmarks.service.invariants import broken
from benchmarks.service.processes import kill, solvers_below, workers_below
from benchmarks.service.requests import FAMILY, FINISH, pieces_request
from benchmarks.service.server import Server, wait_until
from benchmarks.service.steady_client import SteadyClient

PHASES = ("solve", "release", "report")
VICTIMS = ("server", "worker", "solver")
ENDED = ("proposed", "released", "in cutting", "finished", "withdrawn", "failed")


@dataclass
class Outcome:
    """What happened, and what is wrong afterwards."""

    kills: Counter[str] = field(default_factory=Counter)
    accepted: set[str] = field(default_factory=set)
    states: Counter[str] = field(default_factory=Counter)
    attempts: int = 0
    bars: int = 0
    refused: int = 0
    broken: list[str] = field(default_factory=list)


class Shop:
    """People who send plans, release them and cut, one after the other and without end."""

    def __init__(self, port: int, seed: int, outcome: Outcome, at: Callable[[str], None]) -> None:
        self._client, self._random = SteadyClient(port), random.Random(seed)
        self._outcome, self._at = outcome, at
        self._seed = seed
        self.stop = threading.Event()
        self.fault: BaseException | None = None

    def run(self) -> None:
        """Work until told to stop."""
        try:
            number = 0
            while not self.stop.is_set():
                number += 1
                self._one_plan(1_000 * self._seed + number)
        except BaseException as why:
            self.fault = why

    def _one_plan(self, seed: int) -> None:
        body = pieces_request(30, 9, seed, bars=())
        self._at("solve")
        status, plan = self._client.ask("POST", "/v1/plans?seconds=20", body)
        if status not in {201, 202}:  # 201: asked again under its key after a crash, and made meanwhile
            raise RuntimeError(f"a plan was refused with {status}: {plan}")
        self._outcome.accepted.add(plan["id"])
        while plan["state"] not in ENDED:
            time.sleep(0.05)
            plan = self._client.ask("GET", plan["links"]["self"])[1]
        if plan["state"] != "proposed":
            raise RuntimeError(f"plan {plan['id']} is {plan['state']}: {plan['fault']}")
        self._at("release")
        status, released = self._client.ask("POST", plan["links"]["self"] + "/release")
        if status == 409:
            self._outcome.refused += 1
            return
        if status != 200:
            raise RuntimeError(f"a release was answered with {status}: {released}")
        for bar in self._client.ask("GET", plan["links"]["bars"])[1]:
            if self.stop.is_set():
                return
            self._at("report")
            status, said = self._client.ask(
                "POST", f"{plan['links']['bars']}/{bar['number']}/report", self._report(bar)
            )
            if status != 200:
                raise RuntimeError(f"a report was answered with {status}: {said}")
            self._outcome.bars += 1
            if self._random.random() < 0.02:
                self._client.ask("POST", plan["links"]["self"] + "/withdraw")
                return

    def _report(self, bar: dict[str, Any]) -> dict[str, Any]:
        drawn = self._random.random()
        if drawn < 0.1:
            return {"outcome": self._random.choice(("defect", "missing"))}
        if drawn < 0.2:
            return {"outcome": "cut", "spoiled": [bar["cuts"][0]["piece"]]}
        tail = max(bar["tail"]["nm"] + self._random.randrange(-1, 2) * 1_000_000, 0)
        return {"outcome": "cut", "tail_nm": tail, "place": "B3"}


def run(database: str, *, kills: int, seed: int = 0, shops: int = 3) -> Outcome:
    """
    Kill so many times while people work, then let everything come to its end and check it.

    Parameters
    ----------
    kills
        A third each in the middle of a solve, a release and a report; server, its worker and a
        solver in turn.
    """
    draw = random.Random(seed)
    outcome = Outcome()
    moment = _Moment()
    server = Server(database, solvers=1, lease_seconds=2, rate=0, max_crashes=1_000)
    server.start()
    try:
        server.await_ready()
        _stock(SteadyClient(server.port))
        server.start_worker()
        people = [Shop(server.port, n + 1, outcome, moment.reached) for n in range(shops)]
        threads = [threading.Thread(target=shop.run, daemon=True) for shop in people]
        for thread in threads:
            thread.start()
        for number in range(kills):
            phase, victim = PHASES[number % 3], VICTIMS[(number + number // 3) % 3]
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


def _stock(client: SteadyClient) -> None:
    for length in ("2000 mm", "2500 mm", "3000 mm"):
        body = {"family": FAMILY, "finish": FINISH, "length": length, "on_hand": 30, "price": "11.40"}
        client.ask("POST", "/v1/stock", body)
    for number in range(20):
        body = {
            "tag": f"FL-{number}",
            "family": FAMILY,
            "finish": FINISH,
            "length": f"{900 + 40 * number} mm",
        }
        client.ask("POST", "/v1/offcuts", body)


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
