"""Every state of the saw on every device: nothing cut off, nothing too small for a glove, readable by all."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.pages.browser import PHONE, OpenPage, assert_accessible, assert_fits
from tests.pages.saw.bench import Bench
from tests.pages.saw.tablet import SIZE, at_saw, cut_through, sending

SIZES = (SIZE, (1280, 800), (768, 1024), PHONE, (1920, 1080))
TARGET = 44  # px, what a gloved finger needs

SMALL = """least => [...document.querySelectorAll(
  "main a, main button, main input, main summary, .strip a, .strip button"
)]
  .filter(one => !one.closest("p:not([class])"))
  .map(one => [(one.closest("label") ?? one).getBoundingClientRect(), one])
  .filter(([box]) => box.width && (box.height < least || box.width < least))
  .map(([box, one]) => `${one.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`)"""
RIGHT = """one => {
  const range = document.createRange();
  range.selectNodeContents(one);
  return range.getBoundingClientRect().right;
}"""
FONT = "one => parseFloat(getComputedStyle(one).fontSize)"
FIGURE = ".step:not([hidden]) .stop strong"


def unfold(page: Page) -> None:
    """Open all that is folded."""
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_every_state_is_accessible(open_saw: OpenPage, saw: Bench, dark: bool) -> None:
    """List, step, tail, kept, reported, all sheets: held to WCAG 2.2 AA in both colours."""
    page = open_saw(saw.path(), size=SIZE, dark=dark)
    assert_accessible(page)
    for path in (saw.path(3, 1), saw.path(2, 9), f"{saw.path()}/sheets"):
        page.goto(path)
        unfold(page)
        assert_accessible(page)
    page.goto(saw.path(3))
    page.context.set_offline(True)
    cut_through(page, 3)
    sending(page, "Kept here, not sent yet (1)")
    assert_accessible(page)
    page.context.set_offline(False)
    sending(page, "All reports are sent")
    expect(page.locator(".result")).to_be_visible()
    unfold(page)
    assert_accessible(page)
    page.get_by_label("What was wrong").fill("it was bar 4")
    page.get_by_role("button", name="Take the report on bar 3 back").click()
    expect(page.locator(".reopened")).to_be_visible()
    assert_accessible(page)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_nothing_is_cut_off(open_saw: OpenPage, saw: Bench, unit: str) -> None:
    """On a phone, tablets and a desk the stop's figure lies inside its frame; no page is too wide."""
    page = open_saw(cookies={"unit": unit})
    for path in (saw.path(), saw.path(2, 9), f"{saw.path()}/sheets", saw.path(1, 1), saw.path(3, 1)):
        page.goto(path)
        for width, height in SIZES:
            page.set_viewport_size({"width": width, "height": height})
            assert_fits(page)
            figure = page.locator(FIGURE)
            if figure.count() == 1:
                frame = page.locator(".step:not([hidden])").bounding_box()
                assert frame is not None
                assert figure.evaluate(RIGHT) <= frame["x"] + frame["width"], (path, width)


@pytest.mark.parametrize("path", ["", "/3?cut=1", "/2?cut=9"])
def test_targets_are_large_enough_for_a_glove(open_saw: OpenPage, saw: Bench, path: str) -> None:
    """44 px each way for all that is tapped; links within a sentence are text."""
    page = open_saw(saw.path() + path, size=SIZE)
    unfold(page)
    assert page.evaluate(SMALL, TARGET) == []


@pytest.mark.parametrize("size", [SIZE, (1280, 800)], ids=["1024 x 768", "1280 x 800"])
def test_stop_and_button_are_on_the_first_screen(
    open_saw: OpenPage, saw: Bench, size: tuple[int, int]
) -> None:
    """Nobody scrolls between strokes, and the figure is read from a metre away: 2 cm at 96 dots an inch."""
    page = at_saw(open_saw, saw, 3, size=size)
    for _ in range(4):
        page.locator(".step:not([hidden]) button.stroke").click()
        button = page.locator(".step:not([hidden]) button.stroke").bounding_box()
        assert button is not None
        assert button["y"] + button["height"] <= size[1]
        # Figures are about 0.73 of the type's size high; 2 cm are 76 px.
        assert page.locator(FIGURE).evaluate(FONT) * 0.73 >= 76


def test_the_sheet_prints_without_what_is_for_the_screen(open_saw: OpenPage, saw: Bench) -> None:
    """On paper: the bar, its cuts with boxes to write in and to tick, the saw's settings; no buttons."""
    page = open_saw(saw.path(3))
    page.emulate_media(media="print")
    for wanted in (".what", ".picture", ".strokes", ".bench > .paper", ".strokes .write >> nth=0"):
        expect(page.locator(f"{wanted}")).to_be_visible()
    for gone in (".strip", ".steps", ".trouble", ".beside", ".mind"):
        expect(page.locator(gone)).to_be_hidden()
    assert page.locator("button:visible").count() == 0
    # The trim, four cuts and the tail each have a box to tick, empty on paper.
    assert page.locator(".strokes tbody .tick span:visible").count() == 6
