"""The tablet's own scripts, in the browser they run in."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from nesting.errors import LengthNotUnderstood
from nesting.units import Unit, read_length
from tests.pages.browser import OpenPage
from tests.pages.saw.bench import Bench

READ = "async ([text, unit]) => (await import('/static/saw-tail.js')).readTail(text, unit)"
TEXTS = (
    *("0", "40", "396.5", "396,5", "1266", "12.25", " 41 mm", '15 5/8"', "15 5/8 in", "5/8", "7-1/4", "15.5"),
    *("40in", "1,250", "1.250", "15.3 in", "5/7 in", "9/8 in", "40 cm", "forty", "-3", "", "1e3", "12 34"),
    *("40 mm mm", "1 2/3"),
)


@pytest.fixture
def page(open_saw: OpenPage, saw: Bench) -> Page:
    """Open any page of the saw."""
    return open_saw(saw.path())


@pytest.mark.parametrize("unit", [Unit.MM, Unit.INCH])
def test_the_tablet_reads_a_tail_as_the_service_does_or_asks(page: Page, unit: Unit) -> None:
    """Whatever it takes while offline, the service will take, and as the very same nanometres."""
    taken = 0
    for text in TEXTS:
        here = page.evaluate(READ, [text, unit.value])
        try:
            there = int(read_length(text, unit, may_be_zero=True).length)
        except LengthNotUnderstood:
            there = None
        assert here is None or here == there, text
        taken += here is not None
    assert taken >= 9


STEPS = Path(__file__).with_name("outbox_steps.js").read_text(encoding="utf-8").partition("\n")[2]


def drive(page: Page, *steps: Any) -> dict[str, Any]:
    """Drive an outbox of its own through steps."""
    return dict(page.evaluate(STEPS, list(steps)))


def test_reports_go_in_the_order_in_which_they_were_made(page: Page) -> None:
    """Two reports, the later bar first; each leaves when the service has answered for it."""
    found = drive(page, {"keep": 2, "at": 1}, {"keep": 1, "at": 2}, {"answer": 2}, {"answer": 1}, "flush")
    assert [address.partition("?")[0] for address in found["sent"]] == ["/plans/p/saw/2", "/plans/p/saw/1"]
    assert (found["left"], found["out"], found["state"]) == ([], [True], "")


def test_without_an_answer_everything_stays_in_its_place(page: Page) -> None:
    """The first gets no answer: the second is not tried; later both go, the first under its old key."""
    found = drive(page, {"keep": 1}, {"keep": 2}, "flush", "back", {"answer": 1}, {"answer": 2}, "flush")
    assert found["out"] == [False, "too late", True]
    fields = [address.partition("?")[2] for address in found["sent"]]
    assert fields == [f"key=k{bar}&outcome=cut" for bar in (1, 1, 2)]


def test_a_busy_service_is_asked_again_and_a_refusal_is_not(page: Page) -> None:
    """503 keeps the report waiting; 409 keeps it with its reason and lets the others go."""
    busy = drive(page, {"keep": 1}, {"keep": 2}, {"answer": "busy"}, "flush")
    assert (busy["out"], busy["state"], len(busy["left"])) == ([False], "busy", 2)
    found = drive(page, {"keep": 1}, {"keep": 2}, {"answer": "refused"}, {"answer": 2}, "flush", "flush")
    assert (found["out"], found["left"]) == ([True, True], [[1, "cut already"]])
    assert len(found["sent"]) == 2


def test_a_report_is_taken_back_before_it_was_tried_or_after_it_was_refused(page: Page) -> None:
    """What may have arrived is never taken back."""
    assert drive(page, {"keep": 1}, "back")["out"] == ["taken"]
    assert drive(page, {"keep": 1}, {"answer": "refused"}, "flush", "back")["out"] == [True, "taken"]
    assert drive(page, {"keep": 1}, "flush", "back")["out"] == [False, "too late"]


def test_an_answer_about_another_bar_is_no_answer(page: Page) -> None:
    """It came from a cache on the way: the report stays."""
    found = drive(page, {"keep": 1}, {"answer": 7}, "flush")
    assert (found["out"], found["left"], found["state"]) == ([False], [[1, ""]], "away")
