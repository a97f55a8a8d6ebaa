"""The small plan, released once a run and copied for every test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.pages.browser import OpenPage, pages_of
from tests.pages.live import copy_of
from tests.pages.saw.bench import Bench, bench


@pytest.fixture(scope="session")
def released(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make the small plan and release it."""
    database = tmp_path_factory.mktemp("bench") / "bench.sqlite3"
    with bench(database):
        pass
    return database


@pytest.fixture
def database(released: Path, tmp_path: Path) -> Path:
    """Give a copy of the released plan for one test to change."""
    return copy_of(released, tmp_path)


@pytest.fixture
def saw(database: Path) -> Iterator[Bench]:
    """Run the service with the small plan at the saw."""
    with bench(database) as made:
        yield made


@pytest.fixture
def open_saw(browser: Browser, saw: Bench) -> Iterator[OpenPage]:
    """Open pages of the small plan's service."""
    with pages_of(browser, saw.url) as opener:
        yield opener
