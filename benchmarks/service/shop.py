"""A shop at work: people who plan, release, cut, report what went wrong, plan again, take deliveries in."""

from __future__ import annotations

import random
import threading
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from benchmarks.service.requests import FAMILY, FINISH, pieces_request
from benchmarks.service.steady_client import SteadyClient

PHASES = ("solve", "release", "report", "replan")
ENDED = ("proposed", "released", "in cutting", "finished", "withdrawn", "failed")
_FOLLOWERS = 3
_ATTEMPTS = 3


@dataclass
class Outcome:
    """What happened, and what is wrong afterwards."""

    kills: Counter[str] = field(default_factory=Counter)
    accepted: set[str] = field(default_factory=set)
    followers: dict[str, list[str]] = field(default_factory=dict)
    """Plans that were asked to go on from a plan, by that plan."""
    states: Counter[str] = field(default_factory=Counter)
    bars: int = 0
    delivered: int = 0
    refused: int = 0
    broken: list[str] = field(default_factory=list)


class Shop:
    """One of the people, who does one thing after the other and without end."""

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
                self._one_batch(1_000 * self._seed + number)
        except BaseException as why:
            self.fault = why

    def _one_batch(self, seed: int) -> None:
        """Bring one request to its last bar, over as many plans as that takes."""
        self._deliver()
        self._at("solve")
        plan = self._made(self._done("POST", "/v1/plans?seconds=20", pieces_request(30, 9, seed, bars=())))
        for _ in range(_FOLLOWERS):
            released = self._released(plan)
            if released is None or self._cut(released) or self.stop.is_set():
                return
            following = self._again(released, frozen=True)
            if following is None:
                return
            plan = following

    def _released(self, plan: dict[str, Any]) -> dict[str, Any] | None:
        """Release a plan; one whose stock has gone to others is planned anew. None when that is no use."""
        for _ in range(_ATTEMPTS):
            self._at("release")
            status, said = self._client.ask("POST", plan["links"]["self"] + "/release")
            if status == 200:
                return plan
            if status != 409:
                raise RuntimeError(f"a release was answered with {status}: {said}")
            self._outcome.refused += 1
            following = self._again(plan)
            if following is None:
                return None
            plan = following
        return None

    def _cut(self, plan: dict[str, Any]) -> bool:
        """Cut until something calls for another plan; tell whether this one is done with."""
        wrong = False
        for bar in self._bars(plan, "open"):
            if self.stop.is_set():
                return True
            self._at("report")
            path = f"{plan['links']['bars']}/{bar['number']}/report"
            said = self._done("POST", path, self._report(bar))
            self._outcome.bars += 1
            wrong = wrong or bool(said["open_pieces"])
            drawn = self._random.random()
            if drawn < 0.02:
                why = {"reason": "the job is off"}
                self._done("POST", plan["links"]["self"] + "/withdraw", why)
                return True
            if wrong and drawn < 0.5:
                return False
        return not wrong

    def _again(self, plan: dict[str, Any], *, frozen: bool = False) -> dict[str, Any] | None:
        """Have a plan gone on from; None where every piece of it is made."""
        bars = self._bars(plan, "open") if frozen else []
        query = f"&frozen={bars[0]['number']}" if bars and self._random.random() < 0.5 else ""
        path = f"{plan['links']['self']}/replan?seconds=20{query}"
        self._at("replan")
        status, said = self._client.ask("POST", path, {"reason": "a piece came out wrong"})
        if status == 409 and str(said["type"]).endswith("nothing-open"):
            return None
        if status != 202:
            raise RuntimeError(f"a re-plan was answered with {status}: {said}")
        self._outcome.followers.setdefault(plan["id"], []).append(said["id"])
        return self._made(said)

    def _bars(self, plan: dict[str, Any], state: str) -> list[dict[str, Any]]:
        return list(self._done("GET", f"{plan['links']['bars']}?state={state}&limit=500"))

    def _made(self, plan: dict[str, Any]) -> dict[str, Any]:
        """Wait for a plan that was answered for."""
        self._outcome.accepted.add(plan["id"])
        while plan["state"] not in ENDED:
            time.sleep(0.05)
            plan = self._done("GET", plan["links"]["self"])
        if plan["state"] != "proposed":
            raise RuntimeError(f"plan {plan['id']} is {plan['state']}: {plan['fault']}")
        return plan

    def _deliver(self) -> None:
        """Take bars in, so that there are always some on hand and some to be ordered."""
        shelves = self._done("GET", "/v1/stock")
        shelf = self._random.choice([one["id"] for one in shelves])
        bars = self._random.randrange(1, 6)
        self._done("POST", f"/v1/stock/{shelf}/receive", {"bars": bars, "reason": "delivery"})
        self._outcome.delivered += bars

    def _done(self, method: str, path: str, body: object = None) -> Any:
        status, values = self._client.ask(method, path, body)
        if status not in {200, 201, 202}:  # 201: asked again under its key after a crash, and made meanwhile
            raise RuntimeError(f"{method} {path} was answered with {status}: {values}")
        return values

    def _report(self, bar: dict[str, Any]) -> dict[str, Any]:
        drawn = self._random.random()
        if drawn < 0.1:
            return {"outcome": self._random.choice(("defect", "missing"))}
        first = bar["cuts"][0]
        if drawn < 0.2:
            return {"outcome": "cut", "spoiled": [first["piece"]]}
        if drawn < 0.35:
            # Some are long enough for the rack, some are not, and all may become another piece.
            came = max(first["length"]["nm"] - self._random.randrange(1, 200) * 1_000_000, 50_000_000)
            return {"outcome": "cut", "miscuts": [{"piece": first["piece"], "length_nm": came}]}
        tail = max(bar["tail"]["nm"] + self._random.randrange(-1, 2) * 1_000_000, 0)
        return {"outcome": "cut", "tail_nm": tail, "place": "B3"}


def stock_up(client: SteadyClient) -> None:
    """Put bars on hand on three shelves, of one of which no more can be bought, and offcuts on the rack."""
    for length, orderable in (("2000 mm", True), ("2500 mm", True), ("3000 mm", False)):
        body = {"family": FAMILY, "finish": FINISH, "length": length, "on_hand": 20, "price": "11.40"}
        client.ask("POST", "/v1/stock", {**body, "orderable": orderable})
    for number in range(20):
        body = {
            "tag": f"FL-{number}",
            "family": FAMILY,
            "finish": FINISH,
            "length": f"{900 + 40 * number} mm",
        }
        client.ask("POST", "/v1/offcuts", body)
