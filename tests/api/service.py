"""A service in the test's own process, its plans made by the real engine without waiting."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from fastapi.testclient import TestClient
from httpx2 import Response

from api.app import create_app
from api.processes.solver import make
from api.settings import Settings
from api.store.engine import Store
from api.worker.queue import Terms, claim, finish, work_of
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.exchange import write_request
from nesting.units import mm

TERMS = Terms(lease_seconds=10, max_attempts=5, max_crashes=3)
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
FAMILY, FINISH = "TOLV-17N", "natural"


@dataclass(frozen=True)
class Running:
    """A client and the store behind it."""

    client: TestClient
    store: Store

    def make_plans(self) -> int:
        """Make every plan that waits, as a worker would; give their number."""
        made = 0
        while (claimed := claim(self.store, "test", TERMS)) is not None:
            work = replace(work_of(claimed), seconds=120)  # a second when quiet; CI may be busy
            assert finish(self.store, "test", claimed.plan_id, claimed.attempt, make(work))
            made += 1
        return made

    def send(self, body: str, **headers: str) -> Response:
        """Send a request document."""
        return self.client.post(
            "/v1/plans", content=body, headers={"Content-Type": "application/json", **headers}
        )

    def proposed(self, body: str) -> str:
        """Have a plan made; give its id."""
        sent = self.send(body)
        assert sent.status_code == 202, sent.text
        self.make_plans()
        plan = str(sent.json()["id"])
        assert self.plan(plan)["state"] == "proposed"
        return plan

    def plan(self, plan: str) -> dict[str, Any]:
        """Give a plan as it stands."""
        answer = self.client.get(f"/v1/plans/{plan}")
        assert answer.status_code == 200, answer.text
        return dict(answer.json())


@contextmanager
def running(url: str, **settings: Any) -> Iterator[Running]:
    """Run the service without solver processes."""
    chosen = Settings(database=url, solvers=0, **settings)
    with TestClient(create_app(chosen), base_url="http://127.0.0.1", raise_server_exceptions=False) as client:
        yield Running(client, client.app.state.service.store)  # type: ignore[attr-defined]


def pieces_request(lengths: dict[int, int], bars: tuple[int, ...] = (2500,), job: str = "OY") -> str:
    """Give a request for pieces (mm: how many) from bars of one family; no bars when none are named."""
    lines = tuple(
        PieceLine(job=job, id=f"L{length}", family=FAMILY, finish=FINISH, quantity=count, length=mm(length))
        for length, count in lengths.items()
    )
    stock = tuple(StockLine(family=FAMILY, finish=FINISH, length=mm(bar)) for bar in bars)
    return write_request(Request(title="Orrelbeck Yard", piece_lines=lines, stock=stock, saw=SAW))
