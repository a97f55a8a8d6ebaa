"""Each test has a service and a database of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from benchmarks.service.databases import MISSING, fresh_database, postgres_server
from tests.api.service import Running, running


@pytest.fixture(scope="session")
def postgres() -> Iterator[str | None]:
    with postgres_server() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """Either database, one after the other."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'store.sqlite3'}"
        return
    server = request.getfixturevalue("postgres")
    if server is None:
        pytest.skip(MISSING)
    with fresh_database(server) as url:
        yield url


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Running]:
    """Run a service on a SQLite file."""
    with running(f"sqlite:///{tmp_path / 'store.sqlite3'}") as made:
        yield made


@pytest.fixture
def either(database: str) -> Iterator[Running]:
    """Run a service on either database."""
    with running(database) as made:
        yield made
