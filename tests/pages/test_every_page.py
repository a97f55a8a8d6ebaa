"""What every page is held to: accessible, on any screen, without scripts, from this host alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from api.pages.assets import FOLDER as STATIC
from api.pages.environment import FOLDER as TEMPLATES
from tests.pages.browser import DESK, PHONE, TABLET, WIDE, OpenPage, assert_accessible, assert_fits, pages_of
from tests.pages.live import Site, copy_of
from tests.pages.screens import SCREENS, Busy, busy

FIRST_PAGE_BYTES = 100_000


@pytest.fixture(scope="module")
def at_work(demo_database: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Busy]:
    """Run one site for all these tests: they only look."""
    with busy(copy_of(demo_database, tmp_path_factory.mktemp("busy"))) as made:
        yield made


@pytest.fixture
def opener(browser: Browser, at_work: Busy) -> Iterator[OpenPage]:
    with pages_of(browser, at_work.site.url) as made:
        yield made


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("screen", SCREENS)
def test_no_fault_of_access_in_light_and_dark(
    opener: OpenPage, at_work: Busy, screen: str, dark: bool
) -> None:
    """WCAG 2.2 AA as far as a program sees it; millimetres in the light, inches in the dark."""
    page = opener(at_work.path(screen), size=DESK, dark=dark, cookies={"unit": "in" if dark else "mm"})
    answered = page.evaluate("performance.getEntriesByType('navigation')[0].responseStatus")
    assert answered == (404 if screen == "nothing there" else 200)
    assert_accessible(page)


@pytest.mark.parametrize("screen", SCREENS)
def test_no_page_scrolls_sideways(opener: OpenPage, at_work: Busy, screen: str) -> None:
    """From a phone of 360 px to a desk of 1920 px, in the longer texts of inches; tables scroll alone."""
    page = opener(at_work.path(screen), size=PHONE, cookies={"unit": "in"})
    for width, height in (PHONE, TABLET, WIDE):
        page.set_viewport_size({"width": width, "height": height})
        assert_fits(page)


@pytest.mark.parametrize("screen", SCREENS)
def test_every_page_says_what_it_is_without_scripts(opener: OpenPage, at_work: Busy, screen: str) -> None:
    """One heading, a title, its content in sight, and no button that only a script would serve."""
    page = opener(at_work.path(screen), javascript=False)
    expect(page.get_by_role("heading", level=1)).to_have_count(1)
    expect(page.get_by_role("main")).to_be_visible()
    assert page.title()
    outside = page.locator("button:visible:not([type=button])").evaluate_all(
        "all => all.filter(one => !one.form).map(one => one.textContent)"
    )
    assert outside == []


@pytest.mark.parametrize("first_day", [True, False], ids=["first day", "later"])
def test_the_first_page_is_small(browser: Browser, at_work: Busy, bare_site: Site, first_day: bool) -> None:
    """Everything the first page loads is under 100 kB, so that it is there at once on a building site."""
    site = bare_site if first_day else at_work.site
    with pages_of(browser, site.url) as open_page:
        page = open_page()
        sizes: dict[str, int] = {}
        page.on("response", lambda answer: sizes.__setitem__(answer.url, len(answer.body())))
        page.goto("/", wait_until="networkidle")
    assert len(sizes) >= 2
    assert sum(sizes.values()) < FIRST_PAGE_BYTES, sizes


def test_no_file_names_another_host() -> None:
    """Nothing is fetched from elsewhere, not even by a page no test has opened."""
    foreign = re.compile(
        r"""(?:src|href|action|url|import|from|fetch)\s*[=(]?\s*["'(]?\s*(?:https?:)?//[a-z]"""
    )
    found = [
        f"{path.name}: {match.group()}"
        for folder in (STATIC, TEMPLATES)
        for path in folder.rglob("*")
        if path.suffix in (".css", ".js", ".html", ".svg")
        for match in foreign.finditer(path.read_text(encoding="utf-8"))
    ]
    assert found == []


def test_styles_and_scripts_stand_in_files_of_their_own() -> None:
    """The security policy blocks what stands in the page itself."""
    inline = re.compile(r"<style|\sstyle=|\son[a-z]+=[\"']|<script(?![^>]*\bsrc=)|javascript:")
    found = [
        f"{path.name}: {match.group()}"
        for path in TEMPLATES.rglob("*.html")
        for match in inline.finditer(path.read_text(encoding="utf-8"))
    ]
    assert found == []


def test_nothing_moves_for_those_who_do_not_want_it() -> None:
    """Every animation and transition stands in a query that asks first."""
    asked = re.compile(r"@media[^{]*prefers-reduced-motion[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}")
    for path in STATIC.glob("*.css"):
        rest = asked.sub("", path.read_text(encoding="utf-8"))
        assert not re.search(r"\b(?:animation|transition|scroll-behavior)\s*:", rest), path.name
