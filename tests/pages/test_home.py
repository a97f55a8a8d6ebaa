"""The first page, on the first day and later; and the list of plans."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from api.pages import home
from tests.pages.browser import OpenPage, assert_accessible, assert_fits, pages_of
from tests.pages.live import Site


def test_the_demo_is_one_click_away(browser: Browser, bare_site: Site) -> None:
    """A service with nothing in it greets; one click and the building is planned, and can be released."""
    with pages_of(browser, bare_site.url) as open_page:
        page = open_page("/")
        expect(page.get_by_role("heading", level=1)).to_contain_text("least stock to order")
        assert_accessible(page)
        assert_fits(page)
        page.get_by_role("button", name="Plan the demo building").click()
        page.wait_for_url(re.compile("/plans/[0-9a-f]{32}"), timeout=60_000)
        expect(page.get_by_text("proposed").first).to_be_visible(timeout=120_000)
        assert len(bare_site.client.get("/v1/offcuts").json()) == 10
        bare_site.release()


def test_the_demo_list_can_be_looked_at_first(browser: Browser, bare_site: Site) -> None:
    """Nothing is planned then."""
    with pages_of(browser, bare_site.url) as open_page:
        page = open_page("/", javascript=False)
        page.get_by_role("button", name="Look at the demo").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Orrelbeck Yard.xlsx", timeout=60_000)
        assert bare_site.client.get("/v1/plans").json() == []


def test_later_it_shows_what_is_next(page: Page, site: Site) -> None:
    """A proposed plan waits to be released; once released it is in the shop."""
    page.goto("/")
    section = page.get_by_role("region", name="To be looked at and released", exact=True)
    expect(section.get_by_role("link", name="P1")).to_be_visible()
    expect(section).to_contain_text("proposed")
    site.release()
    page.reload()
    expect(page.get_by_role("region", name="In the shop", exact=True)).to_contain_text("Orrelbeck Yard")


def test_plans_are_listed_a_page_at_a_time(
    open_page: OpenPage, site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Older ones are one click away, and the choice of states goes along."""
    from tests.api.service import pieces_request

    monkeypatch.setattr(home, "A_PAGE", 2)
    for _ in range(3):
        sent = site.client.post(
            "/v1/plans", content=pieces_request({904: 1}), headers={"Content-Type": "application/json"}
        )
        assert sent.status_code == 202
    page = open_page("/plans", javascript=False)
    expect(page.locator("tbody th")).to_have_text(["P4", "P3"])
    page.get_by_label("queued").check()
    page.get_by_role("button", name="Show").click()
    page.get_by_role("link", name="Older").click()
    expect(page.locator("tbody th")).to_have_text(["P2"])
    page.get_by_role("link", name="Latest").click()
    expect(page.locator("tbody th")).to_have_text(["P4", "P3"])
    page.goto("/plans?state=finished")
    expect(page.get_by_text("There is no such plan")).to_be_visible()
