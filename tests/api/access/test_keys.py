"""Keys: made once, never kept, worth nothing once revoked; each scope opens its own doors only."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from httpx2 import Response
from sqlalchemy import select

from api.access.keys import Scope, any_key, caller_of, list_keys, make_key, revoke_key
from api.store.models import KeyRow
from tests.api.problems import problem
from tests.api.service import Running, pieces_request, running


def key(service: Running, *scopes: Scope, label: str = "somebody") -> str:
    with service.store.write() as session:
        return make_key(session, label, scopes, service.store.now(session)).text


def bearer(text: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {text}"}


@pytest.fixture
def guarded(tmp_path: Path) -> Iterator[Running]:
    """Run a service that could be reached from other machines."""
    with running(f"sqlite:///{tmp_path / 'store.sqlite3'}", host="0.0.0.0") as made:
        yield made


def test_the_key_itself_is_not_in_the_database(service: Running) -> None:
    """A stolen copy of the database opens nothing."""
    text = key(service, Scope.READ)
    with service.store.read() as session:
        row = session.scalars(select(KeyRow)).one()
        kept = " ".join(str(value) for value in vars(row).values())
    assert text not in kept
    assert text.rpartition("_")[2] not in kept


def test_a_key_opens_until_it_is_revoked(service: Running) -> None:
    """Revoking counts from the next request on, and can be done once."""
    text = key(service, Scope.READ)
    with service.store.write() as session:
        caller = caller_of(session, text)
        assert caller is not None
        assert any_key(session)
        assert revoke_key(session, caller.id, 1)
        assert not revoke_key(session, caller.id, 2)
        assert not revoke_key(session, "none", 2)
        assert caller_of(session, text) is None
        assert not any_key(session)
        assert [row.revoked_at for row in list_keys(session)] == [1]


@pytest.mark.parametrize(
    "text", ["", "nest", "nest_x", "nest__", "nest_000000000000_wrong", "x" * 5_000, "nest_\x00_a"]
)
def test_what_is_no_key_opens_nothing(service: Running, text: str) -> None:
    """Neither nonsense nor a right id with a wrong secret."""
    made = key(service, Scope.READ)
    with service.store.read() as session:
        assert caller_of(session, text) is None
        assert caller_of(session, made[:-1] + ("A" if made[-1] != "A" else "B")) is None


def test_without_a_key_nothing_is_shown_off_loopback(guarded: Running) -> None:
    """Whoever can reach the service must have a key, for reading too; only the pulse is free."""
    for path in (
        "/v1/plans",
        "/v1/offcuts",
        "/v1/stock",
        "/v1/families",
        "/v1/jobs",
        "/v1/events",
        "/metrics",
    ):
        answer = guarded.client.get(path)
        assert problem(answer, 401) == "key-needed"
        assert answer.headers["WWW-Authenticate"] == "Bearer"
    assert guarded.client.get("/healthz").status_code == 200


def test_a_wrong_key_is_refused_even_on_loopback(service: Running) -> None:
    """Somebody who believes to be known must hear that he is not."""
    assert problem(service.client.get("/v1/plans", headers=bearer("nest_a_b")), 401) == "key-needed"
    basic = {"Authorization": "Basic bmVzdDpuZXN0"}
    assert problem(service.client.get("/v1/plans", headers=basic), 401) == "key-needed"


def test_each_scope_opens_its_own_doors(guarded: Running) -> None:
    """Read looks, plan plans, shop keeps the rack, admin the catalogue; none does another's work."""
    offcut = {"tag": "FL-1", "family": "TOLV-17N", "length": "1300 mm"}
    body = pieces_request({610: 1})

    def knock(needed: Scope, headers: dict[str, str]) -> Response:
        if needed is Scope.PLAN:
            sheet = {**headers, "Content-Type": "application/json"}
            return guarded.client.post("/v1/plans", content=body, headers=sheet)
        if needed is Scope.SHOP:
            return guarded.client.post("/v1/offcuts", json=offcut, headers=headers)
        return guarded.client.put("/v1/families/SARN", json={}, headers={**headers, "If-Match": "*"})

    for scope in Scope:
        headers = bearer(key(guarded, scope))
        assert guarded.client.get("/v1/plans", headers=headers).status_code == 200
        for needed in (Scope.PLAN, Scope.SHOP, Scope.ADMIN):
            answer = knock(needed, headers)
            if scope in (needed, Scope.ADMIN):
                assert answer.status_code < 300 or answer.json()["type"].endswith("tag-used"), answer.text
            else:
                assert problem(answer, 403) == "scope-missing"


def test_who_did_it_is_written_down(guarded: Running) -> None:
    """Plans and movements carry the key's label."""
    headers = bearer(key(guarded, Scope.ADMIN, label="purchasing"))
    guarded.client.post(
        "/v1/offcuts", json={"tag": "FL-1", "family": "TOLV-17N", "length": "1300 mm"}, headers=headers
    )
    assert guarded.client.get("/v1/events", headers=headers).json()[0]["by"] == "purchasing"


def test_an_idempotency_key_belongs_to_its_caller(guarded: Running) -> None:
    """The same word used by two keys means two plans, and neither sees the other's answer."""
    headers = {"Content-Type": "application/json", "Idempotency-Key": "monday"}
    plans = {
        guarded.client.post(
            "/v1/plans",
            content=pieces_request({610: 1}),
            headers={**headers, **bearer(key(guarded, Scope.PLAN))},
        ).json()["id"]
        for _ in range(2)
    }
    assert len(plans) == 2


def test_an_error_tells_nothing_of_anothers_input(guarded: Running) -> None:
    """What one customer names a job, a piece or a title never stands in another's refusal."""
    secret = "SECRET-HOTEL"
    one, two = bearer(key(guarded, Scope.ADMIN, label="one")), bearer(key(guarded, Scope.ADMIN, label="two"))
    sheet = {"Content-Type": "application/json"}
    offcut = {"tag": "FL-1", "family": "TOLV-17N", "finish": "natural", "length": "1300 mm", "right": "clean"}
    guarded.client.post("/v1/offcuts", json=offcut, headers=one)
    plans = []
    for headers, job in ((one, secret), (two, "OY")):
        body = pieces_request({610: 2}, job=job)
        plans.append(
            guarded.client.post("/v1/plans", content=body, headers={**headers, **sheet}).json()["id"]
        )
    guarded.make_plans()
    assert guarded.client.post(f"/v1/plans/{plans[0]}/release", headers=one).status_code == 200
    answers = [
        guarded.client.post(f"/v1/plans/{plans[1]}/release", headers=two),
        guarded.client.post("/v1/plans", content=b"{", headers={**two, **sheet}),
        guarded.client.post("/v1/offcuts", json=offcut, headers=two),
        guarded.client.post(f"/v1/plans/{plans[0]}/bars/99/report", json={"outcome": "cut"}, headers=two),
    ]
    for answer in answers:
        assert 400 <= answer.status_code < 500
        assert secret not in answer.text
