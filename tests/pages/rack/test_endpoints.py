"""The rack in a real browser: what a storekeeper does in a day."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.pages.browser import PHONE, OpenPage, assert_accessible
from tests.pages.live import Site


def fact(page: Page, name: str) -> str:
    """Give a figure of an offcut's page by its name."""
    return page.locator("dl.facts > div", has=page.get_by_text(name, exact=True)).locator("dd").inner_text()


def test_a_scanned_label_leads_to_its_offcut(page: Page) -> None:
    """The field has the focus; a scanner types the code and Enter, whatever case the letters have."""
    page.goto("/rack")
    expect(page.get_by_label("Scan a label")).to_be_focused()
    page.keyboard.type("fl-407 ABCDEF")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("FL-407")
    assert fact(page, "Place") == "B, shelf 3"


def test_part_of_a_tag_lists_and_a_wrong_one_says_so(page: Page) -> None:
    """Never an empty page without a word."""
    page.goto("/rack")
    page.get_by_label("Scan a label").fill("FL-44")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("table.rack tbody th")).to_have_text(["FL-442", "FL-449"])
    page.get_by_label("Scan a label").fill("FL-999")
    page.keyboard.press("Enter")
    expect(page.locator(".warning")).to_contain_text("FL-999")


def test_offcuts_are_found_by_length_and_place_without_scripts(open_page: OpenPage) -> None:
    """At least 1200 mm on shelf A 1: three; what is not a length is told beside the field."""
    page = open_page("/rack", javascript=False)
    page.get_by_text("Find by material").click()
    page.get_by_label("At least so long").fill("1200")
    page.get_by_label("Place", exact=True).select_option("A, shelf 1")
    page.get_by_label("Sorted by").select_option("longest")
    page.get_by_role("button", name="Find").click()
    expect(page.locator("table.rack tbody th")).to_have_text(["FL-421", "FL-428", "FL-435"])
    page.get_by_label("At least so long").fill("1,200")
    page.get_by_role("button", name="Find").click()
    expect(page.get_by_label("At least so long")).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_label("At least so long")).to_have_value("1,200")


def test_counted_moved_set_aside_and_scrapped(page: Page) -> None:
    """One offcut through a storekeeper's day; the history tells it afterwards."""
    page.goto("/rack/FL-407")
    page.get_by_label("Length by the tape").fill("1820")
    page.get_by_role("button", name="It is here").click()
    expect(page.get_by_role("status")).to_have_text("Written down as seen.")
    assert fact(page, "Length, measured").startswith("1820")
    page.get_by_label("Place now").fill("C, floor")
    page.get_by_role("button", name="Write the place down").click()
    assert fact(page, "Place") == "C, floor"
    aside = page.get_by_role("form", name="Set aside")
    aside.get_by_label("Why").fill("deep scratch")
    aside.get_by_role("button").click()
    assert fact(page, "State") == "set aside"
    scrap = page.get_by_role("form", name="Scrap")
    scrap.get_by_label("Why").fill("cannot be polished")
    scrap.get_by_role("button").click()
    assert fact(page, "State") == "scrapped"
    expect(page.get_by_role("heading", name="What happened to it?")).to_have_count(0)
    told = page.locator("table.history tbody tr td:nth-child(2)").all_inner_texts()
    assert told[:3] == ["scrapped", "set aside", "written anew"]
    assert told[3].startswith("measured anew, 2")


def test_a_mistake_stays_beside_its_field_with_what_was_typed(page: Page) -> None:
    """Nobody types a form twice."""
    page.goto("/rack/FL-407")
    page.get_by_label("Length by the tape").fill("18x2")
    page.get_by_role("button", name="It is here").click()
    field = page.get_by_label("Length by the tape")
    expect(field).to_have_value("18x2")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#count-length-fault")).to_contain_text("18x2")
    assert_accessible(page)


def test_inches_are_read_as_inches_where_they_are_chosen(open_page: OpenPage, site: Site) -> None:
    """71 1/2 in = 1816.1 mm."""
    page = open_page("/rack/FL-407", cookies={"unit": "in"})
    page.get_by_label("Length by the tape").fill("71 1/2")
    page.get_by_role("button", name="It is here").click()
    expect(page.get_by_role("status")).to_have_text("Written down as seen.")
    assert site.client.get("/v1/offcuts/FL-407").json()["length"]["nm"] == 1_816_100_000


def test_a_reserved_offcut_says_for_whom_and_where_to_report(page: Page, site: Site) -> None:
    """Its plan and bar are a link away; what would break the plan is not offered."""
    plan = site.release()
    page.goto("/rack/FL-407")
    note = page.locator(".note")
    expect(note).to_contain_text("Reserved for plan P1")
    expect(note.get_by_role("link", name="reported at that bar")).to_have_attribute(
        "href", re.compile(rf"/plans/{plan}/saw/\d+")
    )
    expect(page.get_by_role("button", name="Scrap")).to_have_count(0)


def test_an_offcut_is_added_on_a_phone(open_page: OpenPage) -> None:
    """Mistakes first: all of them come back at once, and nothing typed is lost."""
    page = open_page("/rack", size=PHONE)
    page.get_by_role("link", name="Add an offcut").click()
    page.get_by_label("Tag").fill("FL-407")
    page.get_by_label("Length, measured").fill("1,203")
    page.get_by_label("Family").fill("TOLV-17N")
    page.get_by_role("button", name="Put it on the rack").click()
    expect(page.locator("#length-fault")).to_be_visible()
    page.get_by_label("Length, measured").fill("1203")
    page.get_by_role("button", name="Put it on the rack").click()
    expect(page.locator("#tag-fault")).to_contain_text("used before")
    page.get_by_label("Tag").fill("FL-900")
    page.get_by_role("button", name="Put it on the rack").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("FL-900")


def test_a_stocktake_is_written_down_in_one_stroke(page: Page, site: Site) -> None:
    """One place: one seen, one gone; the sum is told."""
    page.goto("/rack/~stocktake")
    page.get_by_label("Place", exact=True).select_option("B, shelf 1")
    page.get_by_role("button", name="Show").click()
    expect(page.locator(".walk li")).to_have_count(2)
    page.get_by_role("group", name="Is FL-456 here?").get_by_label("here", exact=True).check()
    page.get_by_role("group", name="Is FL-470 here?").get_by_label("not here").check()
    page.get_by_role("button", name="Write down").click()
    expect(page.get_by_role("status")).to_contain_text(
        "1 seen as they are written, 0 measured anew, 1 not found"
    )
    assert site.client.get("/v1/offcuts/FL-470").json()["state"] == "lost"


def test_bars_are_delivered_and_counted(page: Page) -> None:
    """From the list to the stock length and back."""
    page.goto("/rack")
    page.get_by_role("link", name=re.compile("TOLV-17N natural 2500")).click()
    page.get_by_label("Bars that came").fill("48")
    page.get_by_role("button", name="Take in").click()
    assert fact(page, "Free").startswith("48")
    page.get_by_label("All bars that stand there").fill("47")
    page.get_by_role("button", name="That many stand there").click()
    assert fact(page, "On hand").startswith("47")
    aside = page.get_by_role("form", name="Set aside")
    aside.get_by_label("Bars").fill("48")
    aside.get_by_label("Why").fill("wet")
    aside.get_by_role("button").click()
    expect(page.locator("#quarantine-bars-fault")).to_have_text("Only 47 are free.")


def test_a_stock_length_is_listed(page: Page) -> None:
    """With the bars that stand there."""
    page.goto("/rack/~bars/add")
    for label, text in (("Family", "TOLV-17N"), ("Stock length", "3 m"), ("Bars that stand there", "7")):
        page.get_by_label(label).fill(text)
    page.get_by_role("button", name="Add").click()
    assert fact(page, "On hand").startswith("7")


def test_the_label_prints_on_one_label(open_page: OpenPage) -> None:
    """The sheet is the label's own size: 70 x 37 mm, one page, nothing but the label on it."""
    page = open_page("/rack/FL-407/label")
    page.emulate_media(media="print")
    assert page.locator("header.frame").is_hidden()
    box = page.locator("svg.label").bounding_box()
    assert box is not None
    # 96 px an inch: 70 mm = 264.6 px, 37 mm = 139.8 px.
    assert (round(box["width"]), round(box["height"])) == (265, 140)
    pdf = page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 1


def test_a_tag_nobody_knows_is_a_page(page: Page) -> None:
    """People get words, not JSON."""
    answer = page.goto("/rack/FL-000")
    assert answer is not None
    assert answer.status == 404
    expect(page.get_by_role("heading", level=1)).to_be_visible()


@pytest.mark.parametrize("path", ["/rack/~add", "/rack/~stocktake", "/rack/~bars/add"])
def test_addresses_of_forms_are_no_tags(page: Page, path: str) -> None:
    """A tag never begins with a tilde, so no offcut can hide a form."""
    answer = page.goto(path)
    assert answer is not None
    assert answer.status == 200
