"""One Chromium a worker, the demo building planned once a run, and a fresh copy of it for every test."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.pages.browser import MISSING, OpenPage, browsing, chromium, pages_of
from tests.pages.live import Site, copy_of, live, make_demo


@pytest.fixture(scope="session")
def demo_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Plan the demo building, once for all workers of a run."""
    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent  # one folder a run, with one folder a worker in it
    with open(folder / "demo.lock", "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        return make_demo(folder)


@pytest.fixture
def site(demo_database: Path, tmp_path: Path) -> Iterator[Site]:
    """Run the service with the demo building proposed; what a test does to it, no other test sees."""
    with live(copy_of(demo_database, tmp_path)) as made:
        yield made


@pytest.fixture
def bare_site(tmp_path: Path) -> Iterator[Site]:
    """Run the service as on its first day, with workers of its own: nothing in it."""
    with live(tmp_path / "bare.sqlite3", solvers=1) as made:
        yield made


# A package's fixture, not a session's: while Playwright runs, its event loop counts as running in this
# thread, and tests elsewhere that bring their own loop would be refused.
@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Run the system's Chromium."""
    program = chromium()
    if program is None:
        pytest.skip(MISSING)
    with browsing(program) as made:
        yield made


@pytest.fixture
def open_page(browser: Browser, site: Site) -> Iterator[OpenPage]:
    """Open pages of the site, and check at the end that none had anything to complain of."""
    with pages_of(browser, site.url) as opener:
        yield opener


@pytest.fixture
def page(open_page: OpenPage) -> Page:
    """Give a blank page at desk size whose addresses begin at the site."""
    return open_page()
