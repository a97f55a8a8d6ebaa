"""Unit and colours are chosen by plain forms, kept in the browser, and show the same page again."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from api.pages.preferences import local_path
from tests.pages.browser import OpenPage


def test_inches_lead_once_they_are_chosen_and_millimetres_again(open_page: OpenPage) -> None:
    """Without scripts, and on the page where one was, its question included."""
    page = open_page("/rack?shortest=600", javascript=False)
    expect(page.get_by_role("button", name="mm", exact=True)).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="inches").click()
    expect(page).to_have_url(re.compile(r"/rack\?shortest=600$"))
    expect(page.get_by_role("button", name="inches")).to_have_attribute("aria-pressed", "true")
    page.goto("/plans")
    page.get_by_role("button", name="mm", exact=True).click()
    expect(page.get_by_role("button", name="mm", exact=True)).to_have_attribute("aria-pressed", "true")


def test_dark_is_as_the_device_says_unless_it_is_chosen(open_page: OpenPage) -> None:
    """Both ways, and back to the device's own."""
    ground = "getComputedStyle(document.body).backgroundColor"
    page = open_page("/", dark=True)
    dark = page.evaluate(ground)
    page.get_by_role("button", name="Light").click()
    page.wait_for_load_state()
    light = page.evaluate(ground)
    assert light != dark
    page.get_by_role("button", name="As device").click()
    page.wait_for_load_state()
    assert page.evaluate(ground) == dark
    other = open_page("/", dark=False)
    assert other.evaluate(ground) == light
    other.get_by_role("button", name="Dark").click()
    other.wait_for_load_state()
    assert other.evaluate(ground) == dark


def test_cookies_that_say_nothing_known_count_as_none(open_page: OpenPage) -> None:
    """Whatever stands in them never reaches the page."""
    page = open_page("/", cookies={"unit": "furlong", "theme": "mauve"})
    expect(page.get_by_role("button", name="mm", exact=True)).to_have_attribute("aria-pressed", "true")
    assert page.locator("html[data-theme]").count() == 0


@pytest.mark.parametrize(
    "text", ["https://elsewhere.example", "//elsewhere.example", "/\\elsewhere.example", "", "new", "/a\r\nb"]
)
def test_a_form_never_leads_elsewhere(text: str) -> None:
    """The way back is a path of this service, or the first page."""
    assert local_path(text) == "/"
    assert local_path("/rack?tag=FL-4") == "/rack?tag=FL-4"
