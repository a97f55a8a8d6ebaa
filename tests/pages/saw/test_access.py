"""Who may report from the saw, and what becomes of reports when a key stops opening."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from api.access.keys import Scope, make_key, revoke_key
from api.deps import KEY_COOKIE
from api.store.models import BarRow
from tests.pages.browser import pages_of
from tests.pages.live import Site, live
from tests.pages.saw.tablet import SIZE, carried, cut_through, sending


@pytest.fixture
def guarded(database: Path) -> Iterator[Site]:
    """Run the service with the small plan as other machines reach it: with keys."""
    with live(database, keys="required") as site:
        yield site


def new_key(site: Site, *scopes: Scope) -> str:
    """Make a key."""
    with site.store.write() as session:
        return make_key(session, "tablet", scopes, site.store.now(session)).text


def plan_of(site: Site) -> str:
    """Give the plan's id."""
    with site.store.read() as session:
        return str(session.query(BarRow.plan_id).first()[0])  # type: ignore[index]


def state(site: Site, number: int) -> str:
    """Give a bar's state."""
    with site.store.read() as session:
        row = session.get(BarRow, (plan_of(site), number))
        assert row is not None
        return row.state


def test_a_key_that_only_looks_cannot_report(guarded: Site) -> None:
    """The bar is shown and says so; a report sent all the same is refused."""
    path = f"/plans/{plan_of(guarded)}/saw/3"
    cookie = {"Cookie": f"{KEY_COOKIE}={new_key(guarded, Scope.READ)}", "Origin": guarded.url}
    page = guarded.client.get(path, headers={**cookie, "Accept": "text/html"})
    assert (page.status_code, "may look, but not report" in page.text) == (200, True)
    assert 'name="outcome"' not in page.text
    sent = guarded.client.post(path, data={"outcome": "cut"}, headers=cookie)
    assert (sent.status_code, state(guarded, 3)) == (403, "open")


def test_reports_outlive_a_key_and_go_with_the_next_one(browser: Browser, guarded: Site) -> None:
    """Revoked while the saw runs: nothing is lost, the way to sign in is shown, then all is sent."""
    plan = plan_of(guarded)
    first = new_key(guarded, Scope.SHOP)
    with pages_of(browser, guarded.url) as open_page:
        page = open_page(f"/plans/{plan}/saw/3", size=SIZE, cookies={KEY_COOKIE: first})
        carried(page)
        with guarded.store.write() as session:
            assert revoke_key(session, first.split("_")[1], guarded.store.now(session))
        cut_through(page, 3)
        link = page.locator("#outbox").get_by_role("link", name="Sign in")
        expect(link).to_be_visible()
        sending(page, "Kept here, not sent yet (1)")
        assert state(guarded, 3) == "open"
        link.click()
        page.get_by_label("Key").fill(new_key(guarded, Scope.SHOP))
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 3")
        sending(page, "All reports are sent")
        assert state(guarded, 3) == "cut"
