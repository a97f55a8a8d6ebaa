"""kill -9 and freezing in real processes; ``python -m benchmarks.service kill`` runs the fifty points."""

import os
import signal

from api.store.engine import Store
from benchmarks.service.invariants import broken
from benchmarks.service.kill import run
from benchmarks.service.requests import pieces_request
from benchmarks.service.server import serving, wait_until
from benchmarks.service.steady_client import SteadyClient


def test_nothing_is_lost_or_done_twice_whoever_is_killed(database: str) -> None:
    """Server mid-solve, worker mid-release, solvers mid-report, server mid-re-plan; then all is checked."""
    outcome = run(database, kills=4, shops=2)
    assert sum(outcome.kills.values()) == 4
    assert outcome.accepted
    assert outcome.followers
    assert outcome.broken == []


def test_a_frozen_workers_plan_is_made_elsewhere_and_its_waking_harms_nothing(database: str) -> None:
    """Stopped mid-solve, overtaken, woken: the other one's plan stands, and nobody was asked."""
    with serving(database, solvers=0, lease_seconds=2, rate=0) as server:
        client = SteadyClient(server.port)
        frozen = server.start_worker()
        server.await_ready()
        request = pieces_request(2_000, 500, 7, bars=(6000,))
        plan = client.ask("POST", "/v1/plans?seconds=6", request)[1]["links"]["self"]

        def state() -> str:
            return str(client.ask("GET", plan)[1]["state"])

        wait_until(lambda: state() == "solving", 60, "nobody began")
        os.kill(frozen.pid, signal.SIGSTOP)
        server.start_worker()
        wait_until(lambda: state() == "proposed", 120, "nobody took over")
        made = client.ask("GET", plan)[1]
        os.kill(frozen.pid, signal.SIGCONT)
        follow = client.ask("POST", "/v1/plans?seconds=1", pieces_request(40, 12, 8))[1]["links"]["self"]
        wait_until(lambda: client.ask("GET", follow)[1]["state"] == "proposed", 60, "nobody works any more")
        assert frozen.poll() is None
        assert client.ask("GET", plan)[1] == made
    store = Store(database)
    assert broken(store, frozenset({made["id"]})) == []
    store.close()
