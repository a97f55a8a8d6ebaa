"""What somebody at the saw does on the page."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.pages.browser import OpenPage
from tests.pages.saw.bench import Bench

SIZE = (1024, 768)


def at_saw(open_page: OpenPage, bench: Bench, bar: int, *, size: tuple[int, int] = SIZE) -> Page:
    """Open a bar, and wait until the tablet carries the others too."""
    page = open_page(bench.path(bar), size=size, touch=True)
    carried(page)
    return page


def carried(page: Page) -> None:
    """Wait until the tablet carries every bar and the pages for a reload."""
    expect(page.locator("body[data-carried=pages]")).to_be_attached(timeout=60_000)


def cut_through(page: Page, bar: int, tail: str = "") -> None:
    """Tick off every step of a bar and say that it is cut."""
    done = page.get_by_role("button", name="Bar", exact=False).and_(page.locator("button.stroke"))
    while not done.is_visible():
        page.locator(".step:not([hidden]) button.stroke").click()
    if tail:
        page.get_by_label("Measured tail").fill(tail)
    page.get_by_role("button", name=f"Bar {bar} is cut").click()


def sending(page: Page, words: str, patience: float = 60_000) -> None:
    """Wait until the page says how its reports stand."""
    expect(page.locator("#sending")).to_have_text(words, timeout=patience)


def try_now(page: Page) -> None:
    """Press the button that sends at once; it may be gone by then, because the page tries by itself too."""
    page.evaluate("document.querySelector('[data-act=try]').click()")
