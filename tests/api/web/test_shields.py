"""What stands between a stranger and the service: sizes, rates, hosts, pages of others, headers."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from api.web.shields import RateLimit
from tests.api.problems import problem
from tests.api.service import Running, pieces_request, running

JSON = {"Content-Type": "application/json"}


@pytest.fixture
def small(tmp_path: Path) -> Iterator[Running]:
    """Run a service with small limits."""
    url = f"sqlite:///{tmp_path / 'store.sqlite3'}"
    with running(url, max_json=2_000, max_upload=3_000, rate=1, burst=5) as made:
        yield made


def test_bodies_too_large_are_refused_whatever_they_say_of_themselves(small: Running) -> None:
    """By their declared length, and by what really comes when none is declared."""
    declared = small.client.post("/v1/plans", content=b"x" * 2_001, headers=JSON)
    assert problem(declared, 413) == "too-large"
    streamed = small.client.post("/v1/plans", content=(b"x" * 500 for _ in range(6)), headers=JSON)
    assert problem(streamed, 413) == "too-large"
    upload = small.client.post("/v1/plans", content=b"x" * 3_001, headers={"Content-Type": "text/csv"})
    assert problem(upload, 413) == "too-large"


def test_too_many_requests_hear_when_to_come_back(small: Running) -> None:
    """Five in reserve, then one a second."""
    answers = [small.client.get("/v1/plans") for _ in range(8)]
    assert [answer.status_code for answer in answers[:5]] == [200] * 5
    assert problem(answers[-1], 429) == "too-many-requests"
    assert int(answers[-1].headers["Retry-After"]) >= 1
    assert small.client.get("/healthz").status_code == 200


def test_tokens_come_back_with_time() -> None:
    """A caller that waits is served again; another one never had to wait."""
    limit = RateLimit(lambda *_: None, rate=2, burst=1)  # type: ignore[arg-type]
    assert limit._wait("a", 0.0) == 0.0  # noqa: SLF001 (the clock is the argument)
    assert limit._wait("a", 0.0) == 0.5  # noqa: SLF001
    assert limit._wait("b", 0.0) == 0.0  # noqa: SLF001
    assert limit._wait("a", 0.5) == 0.0  # noqa: SLF001


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Origin": "null"},
    ],
)
def test_a_page_of_another_site_changes_nothing(service: Running, headers: dict[str, str]) -> None:
    """A visitor's browser on this machine must not become somebody's remote control."""
    answer = service.client.post("/v1/plans", content=pieces_request({610: 1}), headers={**JSON, **headers})
    assert problem(answer, 403) == "foreign-page"


def test_the_services_own_pages_may_change_things(service: Running) -> None:
    """Same origin, as the browser tells it."""
    own = {"Origin": "http://127.0.0.1", "Sec-Fetch-Site": "same-origin"}
    answer = service.client.post("/v1/plans", content=pieces_request({610: 1}), headers={**JSON, **own})
    assert answer.status_code == 202


def test_another_name_for_this_machine_is_not_answered_to(service: Running) -> None:
    """A name that somebody made point here (DNS rebinding) opens nothing."""
    assert problem(service.client.get("/v1/plans", headers={"Host": "evil.example"}), 421) == "unknown-host"
    for name in ("localhost:8484", "127.0.0.1:1", "[::1]:8484"):
        assert service.client.get("/v1/plans", headers={"Host": name}).status_code == 200


def test_every_answer_carries_the_headers_of_a_careful_service(service: Running) -> None:
    """Also the refusals."""
    for path in ("/v1/plans", "/v1/nothing", "/healthz"):
        headers = service.client.get(path).headers
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["X-Frame-Options"] == "DENY"
        assert headers["Referrer-Policy"] == "no-referrer"
    data = service.client.get("/v1/plans").headers
    assert data["Content-Security-Policy"].startswith("default-src 'none'")
    assert data["Cache-Control"] == "no-store"


def test_what_nobody_foresaw_tells_nothing_of_itself(
    service: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault of ours has a name for the log, and not a word of its cause."""

    def fault(*_: object, **__: object) -> None:
        raise RuntimeError("the secret cause")

    monkeypatch.setattr("api.plans.endpoints.get_plan", fault)
    answer = service.client.get("/v1/plans/" + "0" * 32)
    assert problem(answer, 500) == "unexpected"
    assert "secret" not in answer.text
    assert answer.json()["instance"].startswith("urn:nesting:incident:")


def test_a_way_that_is_not_there(service: Running) -> None:
    """Problem details for unknown paths and methods too."""
    client: TestClient = service.client
    assert problem(client.get("/v1/nothing"), 404) == "not-found"
    assert problem(client.delete("/v1/plans"), 405) == "method-not-allowed"
