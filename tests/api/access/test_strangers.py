"""
What one key's errors say of what another key sent: nothing.

A database is one shop, and every key sees the shop's plans, stock and jobs. An error, though, tells its
caller about what it sent itself, and of others only who holds what it asked for.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from httpx2 import Response

from api.access.keys import Scope
from tests.api.access.test_keys import bearer, key
from tests.api.service import FAMILY, FINISH, Running, pieces_request, running

MARK = "zanzigolt"  # in every text that the first key sends


class Shop:
    """A service that two keys use; the first has filled it."""

    def __init__(self, service: Running) -> None:
        self.service = service
        scopes = (Scope.READ, Scope.PLAN, Scope.SHOP, Scope.ADMIN)
        self.first = bearer(key(service, *scopes, label="purchasing"))
        self.second = bearer(key(service, Scope.READ, Scope.PLAN, Scope.SHOP, label="site"))
        self.plan = self._filled()

    def ask(self, method: str, path: str, as_first: bool = False, **more: Any) -> Response:
        """Send something with one of the keys."""
        headers = (self.first if as_first else self.second) | more.pop("headers", {})
        return self.service.client.request(method, path, headers=headers, **more)

    def _filled(self) -> str:
        rack = {"tag": "FL-1", "family": FAMILY, "finish": FINISH, "length": "1300 mm", "right": "clean"}
        self.done("POST", "/v1/offcuts", json={**rack, "place": MARK, "lot": MARK, "reason": MARK})
        self.done(
            "POST", "/v1/stock", json={"family": FAMILY, "finish": FINISH, "length": "2500 mm", "on_hand": 1}
        )
        tree = json.loads(pieces_request({610: 6}, bars=(), job=f"job {MARK}"))
        tree["title"] = MARK
        sent = self.done("POST", "/v1/plans", json=tree, headers={"Idempotency-Key": "one"})
        self.service.make_plans()
        plan = str(sent.json()["id"])
        self.done("POST", f"/v1/plans/{plan}/release")
        self.done(
            "POST", f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut", "note": MARK, "place": MARK}
        )
        self.done("POST", "/v1/jobs", json=tree)
        return plan

    def done(self, method: str, path: str, **more: Any) -> Response:
        """Do something with the first key."""
        answer = self.ask(method, path, as_first=True, **more)
        assert answer.is_success, answer.text
        return answer


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """Fill a shop."""
    with running(f"sqlite:///{tmp_path / 'store.sqlite3'}", host="0.0.0.0") as service:
        yield Shop(service)


def refusals(shop: Shop) -> Iterator[tuple[str, Response]]:
    """Give a refusal of every kind that the second key can run into, each by a name."""
    plan, ask = shop.plan, shop.ask
    xlsx = {"Content-Type": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"}
    text = {"Content-Type": "text/csv"}
    yield "no JSON", ask("POST", "/v1/plans", content="{", headers={"Content-Type": "application/json"})
    yield "no workbook", ask("POST", "/v1/plans", content=b"PK\x03\x04", headers=xlsx)
    yield "no list", ask("POST", "/v1/plans", content="a,b\n1,2\n", headers=text)
    yield "no family", ask("POST", "/v1/plans", json={"schema": 1, "saw": {}, "runs": [{"family": "TOLV"}]})
    yield "bar reported", ask("POST", f"/v1/plans/{plan}/bars/1/report", json={"outcome": "defect"})
    yield (
        "no such piece",
        ask("POST", f"/v1/plans/{plan}/bars/2/report", json={"outcome": "cut", "spoiled": ["X"]}),
    )
    yield "no such bar", ask("POST", f"/v1/plans/{plan}/bars/99/report", json={"outcome": "cut"})
    yield "released already", ask("POST", f"/v1/plans/{plan}/release")
    yield "not open", ask("POST", f"/v1/plans/{plan}/replan?frozen=1")
    yield "no such plan", ask("GET", f"/v1/plans/{'0' * 32}")
    yield "tag used", ask("POST", "/v1/offcuts", json={"tag": "FL-1", "family": FAMILY, "length": "900 mm"})
    yield (
        "offcut held",
        ask("POST", "/v1/offcuts/FL-1/scrap", json={"reason": "x"}, headers={"If-Match": "*"}),
    )
    yield (
        "not seen",
        ask("POST", "/v1/offcuts/FL-1/scrap", json={"reason": "x"}, headers={"If-Match": '"v0"'}),
    )
    yield (
        "shelf there",
        ask("POST", "/v1/stock", json={"family": FAMILY, "finish": FINISH, "length": "2500 mm"}),
    )
    yield "scope missing", ask("POST", "/v1/catalogue", content="x", headers=text)
    yield "unknown parameter", ask("GET", "/v1/plans?colour=red")
    job = shop.ask("GET", "/v1/jobs").json()[0]["id"]
    planned = ask("POST", "/v1/jobs/plans", json={"jobs": [job]})
    assert planned.status_code == 202, planned.text
    yield "nothing waiting", ask("POST", "/v1/jobs/plans", json={"jobs": [job]})
    mine = json.loads(pieces_request({610: 6}, bars=(), job="mine"))
    sent = ask("POST", "/v1/plans", json=mine)
    shop.service.make_plans()
    yield "not released", ask("POST", f"/v1/plans/{sent.json()['id']}/bars/1/report", json={"outcome": "cut"})


def test_no_error_tells_what_somebody_else_sent(shop: Shop) -> None:
    """Titles, job names, places, lots, notes and reasons of one key are in no refusal of another's."""
    count = 0
    for name, answer in refusals(shop):
        assert 400 <= answer.status_code < 500, (name, answer.status_code, answer.text)
        assert MARK not in answer.text, (name, answer.text)
        assert answer.json()["detail"], name
        count += 1
    assert count > 15


def test_a_conflict_names_the_holder_and_nothing_else_of_theirs(shop: Shop) -> None:
    """Who has it, in which plan, is what one needs to know; what the plan is for is not told."""
    rack = {"tag": "T-1", "family": FAMILY, "finish": "umber", "length": "900 mm", "lot": MARK}
    shop.done("POST", "/v1/offcuts", json=rack)
    plans = []
    for job, as_first in ((f"job {MARK}", True), ("mine", False)):
        tree = json.loads(pieces_request({610: 1}, bars=(), job=job))
        tree["piece_lines"][0]["finish"] = "umber"
        plans.append(shop.ask("POST", "/v1/plans", as_first, json=tree).json()["id"])
    shop.service.make_plans()
    shop.done("POST", f"/v1/plans/{plans[0]}/release")
    refused = shop.ask("POST", f"/v1/plans/{plans[1]}/release")
    assert refused.status_code == 409
    assert refused.json()["conflicts"] == [
        {"thing": "T-1", "state": "reserved", "plan": plans[0], "holder": "purchasing"}
    ]
    assert MARK not in refused.text


def test_an_idempotency_key_is_ones_own(shop: Shop) -> None:
    """The same words from another key are another request, answered with its own plan."""
    mine = shop.ask(
        "POST", "/v1/plans", json=json.loads(pieces_request({610: 1})), headers={"Idempotency-Key": "one"}
    )
    assert mine.status_code == 202
    assert mine.json()["id"] != shop.plan
    assert mine.json()["created_by"] == "site"


def test_what_one_upload_left_in_the_reader_is_in_no_other_answer(shop: Shop) -> None:
    """Both go through the same process; the second hears of its own cells only."""
    bad = f"Run,Quantity,Length,Family,Finish\n{MARK},1,{MARK},{FAMILY},{FINISH}\n"
    theirs = shop.ask("POST", "/v1/plans", as_first=True, content=bad, headers={"Content-Type": "text/csv"})
    assert MARK in theirs.text
    mine = shop.ask(
        "POST", "/v1/plans", content=bad.replace(MARK, "wrong"), headers={"Content-Type": "text/csv"}
    )
    assert mine.status_code == 422
    assert MARK not in mine.text
