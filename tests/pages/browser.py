"""The system's Chromium, driven without downloading one; and what every page is held to."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from importlib.resources import files
from typing import Any, Protocol
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

VARIABLE = "NESTING_TEST_CHROMIUM"
PROGRAMS = ("chromium", "chromium-browser", "google-chrome")
MISSING = f"no Chromium here: none of {', '.join(PROGRAMS)} is on the path and {VARIABLE} is not set"
PATIENCE = 180_000
"""Milliseconds before a page counts as stuck: a machine busy with other tests is slow, not wrong."""
PHONE, TABLET, DESK, WIDE = (360, 740), (820, 1180), (1280, 900), (1920, 1080)
WCAG = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")

FLAGS = (
    "--no-sandbox",  # the tests run as root in CI
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


class OpenPage(Protocol):
    """Opens a page of its own browser session; see ``pages_of``."""

    def __call__(
        self,
        path: str | None = None,
        *,
        size: tuple[int, int] = DESK,
        dark: bool = False,
        javascript: bool = True,
        touch: bool = False,
        cookies: dict[str, str] | None = None,
    ) -> Page: ...


def chromium() -> str | None:
    """Give the program to drive; one that is named in the environment is taken at its word."""
    if given := os.environ.get(VARIABLE):
        return given
    return next((found for name in PROGRAMS if (found := shutil.which(name))), None)


@contextmanager
def browsing(program: str) -> Iterator[Browser]:
    """Run Chromium without a window."""
    expect.set_options(timeout=PATIENCE / 4)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(FLAGS))
        yield browser
        browser.close()


@contextmanager
def pages_of(browser: Browser, address: str) -> Iterator[OpenPage]:
    """
    Give a function that opens pages of one site, each in a session of its own.

    At the end nothing may have gone wrong on any of them: no error in a script, nothing that the
    security policy blocked, and no request to another host.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def open_page(
        path: str | None = None,
        *,
        size: tuple[int, int] = DESK,
        dark: bool = False,
        javascript: bool = True,
        touch: bool = False,
        cookies: dict[str, str] | None = None,
    ) -> Page:
        context = browser.new_context(
            base_url=address,
            viewport={"width": size[0], "height": size[1]},
            color_scheme="dark" if dark else "light",
            java_script_enabled=javascript,
            has_touch=touch,
            reduced_motion="reduce",
        )
        contexts.append(context)
        context.set_default_timeout(PATIENCE)
        context.add_cookies([{"name": n, "value": v, "url": address} for n, v in (cookies or {}).items()])
        page = context.new_page()
        _watch(page, address, complaints.append)
        if path is not None:
            page.goto(path)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert not complaints, "\n".join(complaints)


def _watch(page: Page, address: str, complain: Callable[[str], None]) -> None:
    home = urlsplit(address).netloc

    def on_request(url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme in ("http", "https", "ws", "wss") and parts.netloc != home:
            complain(f"a request to another host: {url}")

    def on_console(kind: str, text: str) -> None:
        # A refused form answers 422 and a lost connection answers nothing; tests ask for both.
        if kind == "error" and not text.startswith("Failed to load resource"):
            complain(f"{page.url}: {text}")

    page.on("request", lambda request: on_request(request.url))
    page.on("console", lambda message: on_console(message.type, message.text))
    page.on("pageerror", lambda error: complain(f"{page.url}: {error}"))


@cache
def _axe() -> str:
    return files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")


def faults(page: Page) -> list[str]:
    """Give what axe-core finds wrong with a page by WCAG 2.2 AA and its own best practice, one line each."""
    page.evaluate(_axe())
    options = {"runOnly": {"type": "tag", "values": list(WCAG)}, "resultTypes": ["violations"]}
    found: dict[str, Any] = page.evaluate("options => axe.run(document, options)", options)
    return [
        f"{one['id']}: {one['help']}: {node['html'][:160]} {node['failureSummary'][:300]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


def assert_accessible(page: Page) -> None:
    """Hold a page to WCAG 2.2 AA as far as a program can tell."""
    found = faults(page)
    assert not found, f"{page.url}\n" + "\n".join(found)


def assert_fits(page: Page) -> None:
    """Hold a page to its window's width: only regions inside it may scroll sideways."""
    width, window = page.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
    )
    assert width <= window, f"{page.url} is {width} px wide in a window of {window} px"
