"""A service in the test's own process, for what needs no browser."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.api.conftest import database, either, postgres  # noqa: F401 (fixtures of these tests too)
from tests.api.service import Running, running


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Running]:
    """Run a service on a SQLite file."""
    with running(f"sqlite:///{tmp_path / 'store.sqlite3'}", clerk_seconds=120) as made:  # CI may be busy
        yield made
