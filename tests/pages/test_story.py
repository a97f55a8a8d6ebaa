"""One day from the first visit to the first cut bar, on the demo building, in a real browser."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.pages.browser import DESK, PHONE, TABLET, OpenPage, pages_of
from tests.pages.live import Site

MOST_TABS = 500
SOLVED = 300_000
"""Milliseconds the solver may take on a busy machine; it needs a few seconds."""


@pytest.fixture
def open_bare(browser: Browser, bare_site: Site) -> Iterator[OpenPage]:
    """Open pages of a service on its first day."""
    with pages_of(browser, bare_site.url) as opener:
        yield opener


def press(page: Page, target: Locator) -> None:
    """Go to a link, button or field by the Tab key alone, see that the eye finds it, and press Enter."""
    reach(page, target)
    page.keyboard.press("Enter")


def reach(page: Page, target: Locator) -> None:
    """Go to it by the Tab key alone, from wherever the focus is, and hold it to a visible focus."""
    expect(target).to_have_count(1)
    for _ in range(MOST_TABS):
        if target.evaluate("one => one === document.activeElement"):
            break
        page.keyboard.press("Tab")
    else:
        raise AssertionError(f"{MOST_TABS} times Tab do not lead to {target}")
    seen = target.evaluate(
        "one => { const style = getComputedStyle(one); const box = one.getBoundingClientRect();"
        " return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2"
        " && box.top < innerHeight && box.bottom > 0 }"
    )
    assert seen, f"no eye finds the focus on {target}"


def test_a_whole_day_by_the_keyboard_alone(open_bare: OpenPage, bare_site: Site) -> None:
    """Greeting, demo, live search, answer, release, first bar, its tail on the rack, the job: no mouse."""
    page = open_bare("/", size=DESK)
    press(page, page.get_by_role("button", name="Plan the demo building"))
    expect(page.get_by_role("button", name="Release to the shop")).to_be_visible(timeout=SOLVED)
    # BRASK-20F shares nothing with the rush job: its least purchase is the one `tests/demo` holds.
    expect(page.get_by_role("main")).to_contain_text("565.00")
    expect(page.get_by_role("main")).to_contain_text("all material groups proved least")

    press(page, page.get_by_role("button", name="Release to the shop"))
    press(page, page.get_by_role("link", name="To the saw"))
    press(page, page.get_by_role("link", name="Begin with bar 1"))
    while page.locator(".step:not([hidden]) form.report").count() == 0:
        page.keyboard.press("Enter")
    reach(page, page.get_by_label(re.compile("^Measured tail")))
    page.keyboard.press("Enter")
    expect(page.locator(".result .verdict")).to_have_text("Bar 1: cut")

    page.goto("/rack")  # the storekeeper's own screen
    expect(page.get_by_label("Scan a label")).to_be_focused()
    page.keyboard.type("fl-407")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("FL-407")
    expect(page.locator(".note")).to_contain_text("Reserved for plan P1")
    reach(page, page.get_by_label("Place now"))
    page.keyboard.press("Control+A")
    page.keyboard.type("C, floor")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_have_text("Written down where it is now.")

    press(page, page.get_by_role("link", name="Jobs"))
    press(page, page.get_by_role("link", name="Orrelbeck Yard"))
    done = bare_site.client.get("/v1/jobs", params={"name": "Orrelbeck Yard"}).json()[0]
    expect(page.locator(".lede")).to_contain_text(f"{done['done']} of {done['pieces']} pieces are cut.")


def test_the_same_day_without_scripts(open_bare: OpenPage, bare_site: Site) -> None:
    """Buttons and links do it all; the page of the search looks again by itself."""
    page = open_bare("/", size=DESK, javascript=False)
    page.get_by_role("button", name="Plan the demo building").click()
    page.get_by_role("button", name="Release to the shop").click(timeout=SOLVED)
    page.get_by_role("link", name="To the saw").click()
    page.get_by_role("link", name="Begin with bar 1").click()
    while page.locator("form.report:visible").count() == 0:
        page.locator(".step:visible button.stroke").click()
    page.get_by_role("button", name="Bar 1 is cut").click()
    plan = bare_site.plan
    assert bare_site.client.get(f"/v1/plans/{plan}/bars/1").json()["state"] == "cut"
    page.goto("/rack")
    page.get_by_label("Scan a label").fill("FL-407")
    page.get_by_role("button", name="Show").click()
    page.get_by_label("Place now").fill("C, floor")
    page.get_by_role("button", name="Write the place down").click()
    expect(page.get_by_role("status")).to_have_text("Written down where it is now.")
    page.goto("/jobs")
    page.get_by_role("link", name="Orrelbeck Yard").click()
    expect(page.locator(".lede")).to_contain_text("pieces are cut.")


def test_one_unit_from_its_job_to_its_bars(open_page: OpenPage, site: Site) -> None:
    """On a phone on site: when is 305 complete, which bar is the last, what else is on it."""
    site.release()
    page = open_page("/jobs", size=PHONE, touch=True)
    page.get_by_role("link", name="Orrelbeck Yard").tap()
    page.get_by_role("navigation", name="Floors").get_by_role("link", name="3").tap()
    last = page.get_by_role("row", name=re.compile("^305 ")).get_by_role("link", name=re.compile("after bar"))
    number = str(last.text_content()).rpartition(" ")[2]
    last.tap()
    expect(page).to_have_url(re.compile(rf"\?bar={number}#bar-{number}$"))
    expect(page.locator(f"#bar-{number}")).to_be_in_viewport()


def test_a_tail_is_found_on_the_rack_the_moment_it_is_cut(open_page: OpenPage, site: Site) -> None:
    """The saw's report puts it there under its tag, with its place and its label to print."""
    plan = site.release()
    bars = site.client.get(f"/v1/plans/{plan}/bars", params={"limit": 500}).json()
    bar = next(one for one in bars if one["tail_tag"])
    page = open_page(f"/plans/{plan}/saw/{bar['number']}?cut={len(bar['cuts']) + 1}", size=TABLET)
    page.get_by_label("Put on the rack at").fill("D, shelf 1")
    page.get_by_role("button", name=f"Bar {bar['number']} is cut").click()
    expect(page.locator(".result .verdict")).to_have_text(f"Bar {bar['number']}: cut")
    page.goto(f"/rack/{bar['tail_tag']}")
    expect(page.get_by_text("D, shelf 1").first).to_be_visible()
    page.get_by_role("link", name="Label to print").click()
    expect(page.get_by_role("img", name=re.compile(f"Label: {bar['tail_tag']}"))).to_be_visible()
