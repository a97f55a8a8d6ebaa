"""A whole bar without a finger on the glass."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.pages.browser import OpenPage
from tests.pages.saw.bench import Bench
from tests.pages.saw.tablet import at_saw, sending


def step(page: Page) -> str:
    """Give the name of the step that is shown."""
    return (page.locator(".step:not([hidden])").get_attribute("aria-label") or "").partition(": ")[2]


def test_a_bar_is_cut_with_enter_and_reported_with_its_tail(open_saw: OpenPage, saw: Bench) -> None:
    """Enter for the trim and every cut, the tail typed, Enter again; then on to the next bar."""
    page = at_saw(open_saw, saw, 3)
    seen = [step(page)]
    for _ in range(5):
        page.keyboard.press("Enter")
        seen.append(step(page))
    assert seen == ["trim", "cut 1", "cut 2", "cut 3", "cut 4", "tail"]
    page.keyboard.type("41")
    page.keyboard.press("Enter")
    sending(page, "All reports are sent")
    expect(page.locator(".result .verdict")).to_have_text("Bar 3: cut")
    assert saw.state(3) == "cut"
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 4")
    assert step(page) == "trim"


def test_keys_go_back_and_beside(open_saw: OpenPage, saw: Bench) -> None:
    """One cut back with the arrow; the bars beside with Page Up and Page Down; Space is as good as Enter."""
    page = at_saw(open_saw, saw, 3)
    page.keyboard.press("Space")
    page.keyboard.press("Space")
    assert step(page) == "cut 2"
    page.keyboard.press("ArrowLeft")
    assert step(page) == "cut 1"
    page.keyboard.press("PageDown")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 4")
    page.keyboard.press("PageUp")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 3")
    assert step(page) == "cut 1"


def test_a_key_held_down_does_not_run_through_the_bar(open_saw: OpenPage, saw: Bench) -> None:
    """Three repeats of one press are one stroke."""
    page = at_saw(open_saw, saw, 3)
    for _ in range(4):
        page.keyboard.down("Enter")
    page.keyboard.up("Enter")
    assert step(page) == "cut 1"


def test_a_double_tap_is_one_stroke(open_saw: OpenPage, saw: Bench) -> None:
    """A finger that bounces ticks once; a second tap ticks again."""
    page = at_saw(open_saw, saw, 3)
    page.locator(".step:not([hidden]) button.stroke").dblclick()
    assert step(page) == "cut 1"
    page.locator(".step:not([hidden]) button.stroke").click()
    assert step(page) == "cut 2"
