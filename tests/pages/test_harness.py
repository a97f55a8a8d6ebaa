"""The harness itself: a page test that could not fail would protect nothing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.pages.browser import OpenPage, assert_accessible, assert_fits, faults, pages_of
from tests.pages.live import Site

GOOD = "<html lang=en><title>Rack</title><main><h1>Rack</h1></main>"


def test_the_demo_building_stands_proposed(site: Site) -> None:
    """Every page test begins with one audited plan and ten offcuts."""
    plan = site.client.get(f"/v1/plans/{site.plan}").json()
    assert plan["state"] == "proposed"
    assert len(site.client.get("/v1/offcuts").json()) == 10


@pytest.mark.parametrize("turn", [1, 2])
def test_no_test_sees_what_another_has_done(site: Site, turn: int) -> None:
    """Releasing in one test leaves the next one a plan still to release."""
    plan = site.release()
    assert site.client.get(f"/v1/plans/{plan}").json()["state"] == "released"


def test_axe_sees_a_picture_without_words(open_page: OpenPage) -> None:
    """A fault planted in an otherwise good page is found; the good page has none."""
    page = open_page("/healthz")
    page.set_content(GOOD)
    assert_accessible(page)
    page.set_content(GOOD.replace("</main>", "<img src='data:,'></main>"))
    assert [fault.partition(":")[0] for fault in faults(page)] == ["image-alt"]


def test_a_page_wider_than_its_window_is_caught(open_page: OpenPage) -> None:
    """600 px in a window of 360 px."""
    page = open_page("/healthz", size=(360, 740))
    page.set_content(GOOD)
    assert_fits(page)
    page.set_content(GOOD.replace("</main>", "<svg width=600 height=9></svg></main>"))
    with pytest.raises(AssertionError, match=r"60\d px wide in a window of 360 px"):
        assert_fits(page)


def test_scripts_that_fail_and_strangers_are_told(browser: Browser, site: Site) -> None:
    """An error in a script and a request to another host each fail the test that met them."""
    with pytest.raises(AssertionError, match=r"(?s)another host: http://127\.0\.0\.2.*broken"):  # noqa: PT012, SIM117
        with pages_of(browser, site.url) as opener:
            page = opener("/healthz")
            page.set_content("<img src='http://127.0.0.2:9/x.png'>")
            with page.expect_event("pageerror"):
                page.evaluate("setTimeout(() => { throw new Error('broken') })")
