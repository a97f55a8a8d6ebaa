"""A service in real processes: answers while one waits, searches cut short, news as they come."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import httpx
import pytest

from benchmarks.service.databases import MISSING, fresh_database
from benchmarks.service.requests import pieces_request
from benchmarks.service.server import ROOT, serving, wait_until
from nesting.domain.plan import Plan
from nesting.domain.progress import StopReason
from nesting.exchange import read_plan
from nesting.verify import violations

JSON = {"Content-Type": "application/json"}
# Near-equal lengths with many of each keep a search busy until its time is up.
LARGE = pieces_request(8_000, 1_600, 101, bars=(6000,))


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def shop(
    request: pytest.FixtureRequest, postgres: str | None, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[httpx.Client]:
    """Give a client of a service with two solvers, the same one for all tests: starting it takes long."""
    with ExitStack() as stack:
        if request.param == "sqlite":
            database = f"sqlite:///{tmp_path_factory.mktemp('served') / 'store.sqlite3'}"
        elif postgres is None:
            pytest.skip(MISSING)
        else:
            database = stack.enter_context(fresh_database(postgres))
        server = stack.enter_context(serving(database, solvers=2, rate=0))
        yield stack.enter_context(httpx.Client(base_url=server.url, timeout=90))


def send(shop: httpx.Client, body: str, query: str = "", **headers: str) -> httpx.Response:
    """Send a request document."""
    return shop.post(f"/v1/plans{query}", content=body, headers=JSON | headers)


def state(shop: httpx.Client, plan: str) -> dict[str, Any]:
    """Give a plan as it stands."""
    return dict(shop.get(f"/v1/plans/{plan}").raise_for_status().json())


def result(shop: httpx.Client, plan: str) -> Plan:
    """Give a plan's result."""
    return read_plan(shop.get(f"/v1/plans/{plan}/result").raise_for_status().text)


def test_a_small_plan_is_answered_at_once_to_whoever_waits(shop: httpx.Client) -> None:
    """201 with the plan itself, its address and tag, and what was heeded; nobody has to ask again."""
    made = send(shop, pieces_request(40, 12, 1), Prefer="wait=60")
    plan = made.json()
    assert (made.status_code, plan["state"], plan["summary"]["pieces"]) == (201, "proposed", 40)
    assert made.headers["Location"] == f"/v1/plans/{plan['id']}"
    assert made.headers["Preference-Applied"] == "wait=60"
    assert "Retry-After" not in made.headers
    seen = shop.get(made.headers["Location"])
    assert (seen.headers["ETag"], seen.json()) == (made.headers["ETag"], plan)
    assert not violations(result(shop, plan["id"]))


def test_the_same_request_again_is_answered_with_the_same_plan(shop: httpx.Client) -> None:
    """A lost 201 is asked for again under its key: one plan, 201 both times."""
    first, again = (
        send(shop, pieces_request(40, 12, 2), **{"Prefer": "wait=60", "Idempotency-Key": "order-1"})
        for _ in range(2)
    )
    assert (first.status_code, again.status_code) == (201, 201)
    assert first.json() == again.json()
    numbers = [one["number"] for one in shop.get("/v1/plans", params={"job": "J2"}).json()]
    assert numbers == [first.json()["number"]]


def test_the_lines_of_the_readme_do_what_they_say(
    shop: httpx.Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever copies them gets a plan, its totals, and a release."""
    text = (ROOT / "README.md").read_text()
    (request,) = re.findall(r"^cat > request.json <<'END'\n(.*?)^END\n", text, re.DOTALL | re.MULTILINE)
    (lines,) = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    assert len(lines.splitlines()) <= 13
    (tmp_path / "request.json").write_text(request)
    monkeypatch.chdir(tmp_path)
    exec(lines.replace("http://127.0.0.1:8484", str(shop.base_url)), {})
    assert "Totals(bars=" in capsys.readouterr().out
    (made,) = shop.get("/v1/plans", params={"job": "Yard"}).json()
    assert made["state"] == "released"


def test_a_search_cut_short_keeps_the_best_plan(shop: httpx.Client) -> None:
    """Who cannot wait gets what there is: whole, audited, and honestly not called proved."""
    sent = send(shop, LARGE, "?seconds=300", Prefer="wait=1")
    assert (sent.status_code, sent.headers["Retry-After"]) == (202, "1")
    plan = sent.json()["id"]

    def found_one() -> bool:
        news = state(shop, plan)["progress"]
        return bool(news and news["best"])

    wait_until(found_one, 120, "no plan was found")
    best = state(shop, plan)["progress"]["best"]
    asked = time.monotonic()
    assert shop.post(f"/v1/plans/{plan}/cancel").status_code == 200
    wait_until(lambda: state(shop, plan)["state"] == "proposed", 90, "the search went on")
    assert time.monotonic() - asked < 250  # long before its own time was up
    made = state(shop, plan)
    assert (made["summary"]["pieces"], made["summary"]["unplaced"], made["fault"]) == (8_000, 0, None)
    whole = result(shop, plan)
    (group,) = whole.groups
    assert group.cost <= best
    assert group.bound <= group.cost
    if not group.proved:
        assert group.ended is StopReason.CANCELLED
    assert not violations(whole)
    # The solver that was interrupted is as good as new.
    after = send(shop, pieces_request(40, 12, 3), Prefer="wait=60")
    assert (after.status_code, after.json()["summary"]["proved"]) == (201, True)


def test_a_plan_cancelled_while_it_waits_is_made_all_the_same(shop: httpx.Client) -> None:
    """Cutting short means the best plan so far, also where the search has not begun."""
    for _ in range(2):
        send(shop, LARGE, "?seconds=4")
    plan = send(shop, pieces_request(40, 12, 4)).json()["id"]
    shop.post(f"/v1/plans/{plan}/cancel")
    wait_until(lambda: state(shop, plan)["state"] == "proposed", 120, "it was never made")
    assert state(shop, plan)["summary"]["pieces"] == 40


def test_news_come_as_events_until_the_end(shop: httpx.Client) -> None:
    """A page shows phase, best, bound and gap without asking; the last event is the plan that came of it."""
    plan = send(shop, LARGE, "?seconds=5").json()["id"]
    seen = []
    with shop.stream("GET", f"/v1/plans/{plan}/progress", headers={"Accept": "text/event-stream"}) as lines:
        for line in lines.iter_lines():
            if line.startswith("data: "):
                seen.append(json.loads(line[6:]))
    assert seen[-1]["state"] == "proposed"
    news = [one["progress"] for one in seen if one["progress"]]
    assert any(one["best"] and one["bound"] and one["gap"] is not None and one["phase"] for one in news)
