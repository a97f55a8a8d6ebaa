"""Latency of small plans and of reading, measured against a timetable so that no waiting is hidden."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass

from benchmarks.service.client import Answer, Connections, connected
from benchmarks.service.requests import FINISH, pieces_request
from benchmarks.service.server import Server, serving


@dataclass(frozen=True, slots=True)
class Latencies:
    """Seconds from the moment a request was due to the end of its answer, and what went wrong."""

    seconds: tuple[float, ...]
    failed: int

    def share(self, part: float) -> float:
        """Give the time within which this part of the requests was answered."""
        ordered = sorted(self.seconds)
        return ordered[min(int(len(ordered) * part), len(ordered) - 1)]

    def __str__(self) -> str:
        """Give one line for a table, milliseconds."""
        p50, p95, p99 = (1000 * self.share(part) for part in (0.50, 0.95, 0.99))
        most = 1000 * max(self.seconds)
        return (
            f"n {len(self.seconds)}  p50 {p50:.1f} ms  p95 {p95:.1f} ms  p99 {p99:.1f} ms  "
            f"max {most:.1f} ms  failed {self.failed}"
        )


async def timetable(
    rate: float, seconds: float, ask: Callable[[int], Awaitable[Answer]], accepted: Sequence[int]
) -> Latencies:
    """Send requests at a fixed rate, whether or not earlier ones are answered."""
    taken: list[float] = []
    failed = 0

    async def one(number: int, due: float) -> None:
        nonlocal failed
        try:
            answer = await ask(number)
            failed += answer.status not in accepted
        except (OSError, asyncio.IncompleteReadError):
            failed += 1
        taken.append(time.perf_counter() - due)

    started = time.perf_counter()
    tasks = []
    for number in range(int(rate * seconds)):
        due = started + number / rate
        await asyncio.sleep(max(due - time.perf_counter(), 0))
        tasks.append(asyncio.create_task(one(number, due)))
    await asyncio.gather(*tasks)
    return Latencies(tuple(taken), failed)


async def small_plans(connections: Connections, *, rate: float, seconds: float) -> Latencies:
    """Plan 40 pieces so many times a second, each request waiting for its plan."""
    bodies = [pieces_request(40, 12, seed) for seed in range(100)]

    async def ask(number: int) -> Answer:
        return await connections.post("/v1/plans", bodies[number % len(bodies)], Prefer="wait=20")

    await timetable(rate, 2, ask, (201,))  # connections, compiled queries
    return await timetable(rate, seconds, ask, (201,))


async def reading(connections: Connections, *, rate: float, seconds: float) -> tuple[Latencies, int]:
    """Read plans, shelves and offcuts so many times a second while two large plans are at work."""
    for number in range(50):
        body = {"tag": f"B-{number}", "family": "other", "finish": FINISH, "length": f"{500 + number} mm"}
        await connections.post("/v1/offcuts", body)
    await connections.post("/v1/stock", {"family": "other", "length": "2500 mm", "on_hand": 40})
    small = (await connections.post("/v1/plans", pieces_request(40, 12, 1), Prefer="wait=20")).json()["id"]
    large = []
    for seed in range(101, 109):
        # Two at a time: as soon as one is settled a solver takes the next, so that both stay busy.
        request = pieces_request(8_000, 1_600, seed, bars=(6000,))
        sent = await connections.post(f"/v1/plans?seconds={seconds + 30:g}", request)
        large.append(sent.json()["id"])
    await asyncio.sleep(3)
    paths = (
        f"/v1/plans/{small}",
        "/v1/offcuts?limit=20",
        "/v1/stock",
        "/v1/plans?limit=10",
        f"/v1/plans/{large[0]}",
    )

    async def ask(number: int) -> Answer:
        return await connections.ask("GET", paths[number % len(paths)])

    await timetable(rate, 1, ask, (200,))
    measured = await timetable(rate, seconds, ask, (200,))
    busy = 0
    for plan in large:
        busy += (await connections.ask("GET", f"/v1/plans/{plan}")).json()["state"] == "solving"
        await connections.post(f"/v1/plans/{plan}/cancel", {})
    return measured, busy


async def drain(connections: Connections, *, plans: int) -> tuple[float, int, int]:
    """Queue so many plans at once; give the seconds until all are made, how many are, and how many twice."""
    started = time.perf_counter()
    ids = []
    for seed in range(plans):
        answer = await connections.post("/v1/plans", pieces_request(40, 12, seed))
        ids.append(answer.json()["id"])
    until = time.perf_counter() + 600
    waiting = list(ids)
    while waiting and time.perf_counter() < until:
        state = (await connections.ask("GET", f"/v1/plans/{waiting[-1]}")).json()["state"]
        if state == "proposed":
            waiting.pop()
        else:
            await asyncio.sleep(0.2)
    return time.perf_counter() - started, len(set(ids)) - len(waiting), len(ids) - len(set(ids))


def run(database: str, *, seconds: float, plans: int) -> list[str]:
    """Measure everything on one database; give the lines to print."""
    with serving(database, solvers=2, rate=0) as server:
        return asyncio.run(_measure(server, seconds, plans))


async def _measure(server: Server, seconds: float, plans: int) -> list[str]:
    async with connected(server.port) as connections:
        await _warm(connections)
        small = await small_plans(connections, rate=10, seconds=seconds)
        read, busy = await reading(connections, rate=200, seconds=seconds)
        taken, made, twice = await drain(connections, plans=plans)
    rate = plans / taken
    return [
        f"small plans, 40 pieces, 10 a second, Prefer: wait: {small}",
        f"reading, 200 a second, {busy} large plans at work: {read}",
        f"{plans} queued plans: {made} made, {twice} twice, {taken:.1f} s, {rate:.1f} a second",
    ]


async def _warm(connections: Connections) -> None:
    """Wait for both solvers to have planned once: they compile their kernels first."""
    bodies = [pieces_request(40, 12, seed) for seed in range(6)]
    await asyncio.gather(*(connections.post("/v1/plans", body, Prefer="wait=30") for body in bodies))
