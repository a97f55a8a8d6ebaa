"""Whoever asked for a page gets one, whatever went wrong; programs get what they always got."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from api.pages import home
from tests.api.service import Running, running

PAGE = {"Accept": "text/html,application/xhtml+xml"}


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Running]:
    """Run a service on a SQLite file."""
    with running(f"sqlite:///{tmp_path / 'store.sqlite3'}", max_upload=1_000) as made:
        yield made


@pytest.mark.parametrize(
    ("path", "status"),
    [("/nowhere", 404), ("/drafts/" + "0" * 32, 404), ("/drafts/x", 422), ("/plans?stat=queued", 422)],
)
def test_a_refusal_is_a_page_for_people(service: Running, path: str, status: int) -> None:
    """With the same status, a heading and a way on."""
    answer = service.client.get(path, headers=PAGE)
    assert answer.status_code == status
    assert answer.headers["Content-Type"].startswith("text/html")
    assert "<h1>" in answer.text
    assert "To the first page" in answer.text


def test_a_layer_that_refuses_before_any_page_is_asked_is_a_page_too(service: Running) -> None:
    """Too large a file, a foreign page's form."""
    large = service.client.post("/new", data={"rows": "x" * 2_000}, headers=PAGE)
    assert (large.status_code, large.headers["Content-Type"]) == (413, "text/html; charset=utf-8")
    foreign = service.client.post(
        "/new", data={"rows": "x"}, headers=PAGE | {"Origin": "http://elsewhere.example"}
    )
    assert (foreign.status_code, "<h1>" in foreign.text) == (403, True)


def test_programs_get_problem_details(service: Running) -> None:
    """Under /v1 always; elsewhere whoever does not ask for a page."""
    for path, headers in (("/v1/plans/" + "0" * 32, PAGE), ("/nowhere", {"Accept": "application/json"})):
        answer = service.client.get(path, headers=headers)
        assert answer.headers["Content-Type"] == "application/problem+json"


def test_what_nobody_foresaw_tells_nothing_but_where_to_look(
    service: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The incident's name is on the page, its cause is not."""

    def breaks(*_: object) -> None:
        raise RuntimeError("the secret cause")

    monkeypatch.setattr(home, "list_drafts", breaks)
    answer = service.client.get("/", headers=PAGE)
    assert answer.status_code == 500
    assert "urn:nesting:incident:" in answer.text
    assert "secret" not in answer.text


def test_every_page_carries_the_policy_that_lets_nothing_foreign_in(service: Running) -> None:
    """Scripts and styles in files of ours, forms to ourselves, nothing else; and a form's origin is told."""
    for path in ("/", "/nowhere", "/new"):
        headers = service.client.get(path, headers=PAGE).headers
        policy = dict(part.strip().split(" ", 1) for part in headers["Content-Security-Policy"].split(";"))
        assert policy["default-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
        assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
        assert headers["Referrer-Policy"] == "same-origin"
        assert headers["Cache-Control"] == "no-store"


def test_no_page_is_part_of_the_documented_interface(service: Running) -> None:
    """The schema of the API stays what it was."""
    paths = service.client.get("/v1/openapi.json").json()["paths"]
    assert all(path.startswith("/v1") or path in ("/healthz", "/readyz", "/metrics") for path in paths)
