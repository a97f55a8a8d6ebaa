"""Static files may be kept by browsers for ever, and never longer than they are true."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from api.pages.assets import FOLDER, assets, static_url
from tests.api.service import Running, running


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Running]:
    """Run a service on a SQLite file."""
    with running(f"sqlite:///{tmp_path / 'store.sqlite3'}") as made:
        yield made


def test_an_address_with_the_digest_is_kept_for_ever(service: Running) -> None:
    """A second visit loads nothing again; a new style has a new address."""
    answer = service.client.get(static_url("style.css"))
    assert answer.status_code == 200
    assert answer.headers["Content-Type"].startswith("text/css")
    assert "immutable" in answer.headers["Cache-Control"]


@pytest.mark.parametrize("query", ["", "?v=old"])
def test_any_other_address_is_asked_again(service: Running, query: str) -> None:
    """Modules name each other without a digest: unchanged, they are not sent again."""
    answer = service.client.get(f"/static/draft.js{query}")
    assert answer.headers["Cache-Control"] == "no-cache"
    again = service.client.get("/static/draft.js", headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize("name", ["none.css", "..%2Fassets.py", "%2e%2e%2frouter.py"])
def test_nothing_else_can_be_fetched(service: Running, name: str) -> None:
    """Only what lies in the folder, by its plain name."""
    assert service.client.get(f"/static/{name}").status_code == 404


def test_every_file_has_a_type_that_browsers_run_or_show() -> None:
    """With nosniff a wrong type is a script that does not run."""
    assert set(assets()) == {path.name for path in FOLDER.iterdir() if path.is_file()}
    kinds = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
    for name, asset in assets().items():
        assert asset.media_type == kinds.get(Path(name).suffix, asset.media_type)
        assert asset.media_type != "application/octet-stream"


def test_a_misspelt_name_is_noticed_at_once() -> None:
    """In a template it fails the page's test, not the visitor's page."""
    with pytest.raises(KeyError):
        static_url("stlye.css")
