"""The plan's screen in a real browser, with the demo building."""

import re

import pytest
from playwright.sync_api import Page, expect

from nesting.exchange import read_plan
from tests.api.service import pieces_request
from tests.pages.browser import PHONE, TABLET, WIDE, OpenPage, assert_accessible, assert_fits
from tests.pages.live import Site

PATHS = ("", "?piece=OY-305-2", "?floor=3&unit=305", "/runs?unit=305", "/compare")


@pytest.fixture
def plan(site: Site) -> str:
    return f"/plans/{site.plan}"


def made(site: Site, body: str) -> str:
    """Have a request planned; give the plan's id."""
    sent = site.client.post("/v1/plans", content=body, headers={"Content-Type": "application/json"})
    assert sent.is_success, sent.text
    site.make_plans()
    return str(sent.json()["id"])


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_every_page_is_accessible_and_fits_a_phone(open_page: OpenPage, plan: str, dark: bool) -> None:
    """WCAG 2.2 AA as far as a program can tell, and no sideways scrolling at 360 px."""
    page = open_page(size=PHONE, dark=dark)
    for path in PATHS:
        page.goto(plan + path)
        assert_accessible(page)
        assert_fits(page)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_wide_window_is_used(open_page: OpenPage, plan: str, unit: str) -> None:
    """At 1920 px the acts stand beside the answer; in inches too nothing overflows."""
    page = open_page(plan, size=WIDE, cookies={"unit": unit})
    assert_fits(page)
    answer = page.locator(".answer").bounding_box()
    acts = page.locator("aside").bounding_box()
    assert answer
    assert acts
    assert acts["x"] > answer["x"] + answer["width"]


def test_the_answer_in_words(open_page: OpenPage, plan: str) -> None:
    """What to order, what it costs and that it is proved, before anything else."""
    page = open_page(plan)
    said = page.locator(".order-words li").last
    expect(said).to_contain_text("Order 33 bars of 2000 mm and 46 bars of 2500 mm TOLV-17N natural channel")
    expect(said).to_contain_text("1020.20 XTS")
    expect(said).to_contain_text("proved")
    expect(page.locator("table.good")).to_contain_text(
        "32 bars of 2000 mm and 47 bars of 2500 mm, 1022.80 XTS, 2.60 XTS more."
    )


@pytest.mark.parametrize("javascript", [True, False], ids=["script", "no-script"])
def test_from_a_drawn_piece_to_its_run(open_page: OpenPage, plan: str, javascript: bool) -> None:
    """Click a piece to see where it goes, click its run to see its pieces, go back to the bar."""
    page = open_page(f"{plan}?unit=305", javascript=javascript)
    expect(page.locator(".found")).to_contain_text(
        "unit 305: 5\N{NO-BREAK SPACE}pieces on 5\N{NO-BREAK SPACE}bars"
    )
    page.get_by_role("link", name=re.compile(r"^cut 2: 592 mm .*, OY-305-2$")).click()
    panel = page.get_by_role("region", name="Piece OY-305-2")
    expect(panel).to_be_visible()
    expect(panel).to_contain_text("floor 3 · unit 305 · room kitchen · spot by the hob")
    expect(panel).to_contain_text("cut 2 of bar 173")
    panel.get_by_role("link", name="OY-305-2").click()
    pieces = page.get_by_role("region", name="Pieces of run OY-305-2")
    expect(pieces).to_be_visible()
    pieces.get_by_role("link", name="bar 173").click()
    expect(page.locator("#bar-173")).to_be_attached()
    expect(page.locator("tr.marked")).to_contain_text("OY-305-2")


def test_filters_go_together(open_page: OpenPage, site: Site, plan: str) -> None:
    """Job, floor, unit and material narrow the bars; the address can be sent to somebody."""
    page = open_page(plan)
    page.get_by_label("Floor").select_option("6")
    page.get_by_label("Material", exact=True).select_option("QUEN-30M natural channel")
    page.get_by_role("button", name="Show", exact=True).click()
    expect(page).to_have_url(re.compile(r"floor=6&.*material=QUEN-30M"))
    assert page.locator(".card").count() > 0
    assert page.locator(".bars h3").all_inner_texts() == [
        "QUEN-30M natural channel channel and cover together, one cover bar per channel bar"
    ]
    # Every bar shown holds a piece of floor 6, and it is marked.
    for card in page.locator(".card").all():
        assert card.locator("g.piece.wanted").count() > 0
    page.get_by_role("link", name="Show all").click()
    # Several plans cost the least, and a better search may find another of them: counted from the plan.
    result = read_plan(site.client.get(f"/v1{plan}/result", headers={"Accept": "application/json"}).text)
    different = {
        (group.material, bar.source, tuple((cut.length, cut.slope_start, cut.slope_end) for cut in bar.cuts))
        for group in result.groups
        for bar in group.bars
    }
    expect(page.locator(".found")).to_contain_text(f"194\N{NO-BREAK SPACE}bars, {len(different)} different")


def test_bars_are_to_scale(open_page: OpenPage, plan: str) -> None:
    """The longest bar of its material is 2500: a 1800 piece is drawn 1800 / 2500 as wide as the drawing."""
    page = open_page(f"{plan}?piece=OY-305-1")
    wide = page.evaluate(
        "() => {const at = e => e.getBoundingClientRect();"
        "const card = document.querySelector('.pointed').closest('.card');"
        "const svg = at(card.querySelector('svg.bar')).width;"
        "const face = card.querySelector('g.marked .face').width.baseVal.value;"
        "return face / svg}"
    )
    assert wide == pytest.approx(1800 / 2500, abs=0.002)


def test_release_with_the_keyboard_alone(open_page: OpenPage, site: Site, plan: str) -> None:
    """Tab to the button, press it: released, and the saw is one link away."""
    page = open_page(plan)
    button = page.get_by_role("button", name="Release to the shop")
    for _ in range(80):
        page.keyboard.press("Tab")
        if button.evaluate("e => e === document.activeElement"):
            break
    page.keyboard.press("Enter")
    expect(page.locator(".state")).to_have_text("released")
    expect(page.get_by_role("link", name="To the saw")).to_have_attribute("href", f"{plan}/saw")
    expect(page.locator(".next")).to_contain_text("0 of 194 bars cut, 194 to go.")


@pytest.mark.parametrize("javascript", [True, False], ids=["script", "no-script"])
def test_a_conflict_and_the_way_around_it(open_page: OpenPage, site: Site, javascript: bool) -> None:
    """Two plans want the same offcuts: the second hears who has them and is planned again without."""
    first, second = (made(site, pieces_request({610: 6}, bars=(), job=job)) for job in ("OY2", "WK2"))
    site.release(first)
    page = open_page(f"/plans/{second}", javascript=javascript)
    page.get_by_role("button", name="Release to the shop").click()
    refused = page.get_by_role("alert")
    expect(refused).to_contain_text("not free. Nothing has been reserved.")
    row = refused.get_by_role("row", name=re.compile("^FL-4"))
    expect(row.first).to_contain_text("plan P2")
    expect(row.first).to_contain_text("this machine")
    if javascript:
        assert_accessible(page)
    page.locator("#plan-again").get_by_label("Reason").fill("the rush job has the offcuts")
    page.locator("#plan-again").get_by_role("button", name="Plan again").click()
    expect(page.locator(".plan-head")).to_contain_text("Follows plan P3")
    site.make_plans()
    # The page shows by itself that the plan is there, with a script or without.
    page.get_by_role("button", name="Release to the shop").click(timeout=30_000)
    expect(page.locator(".state")).to_have_text("released")


def test_a_plan_is_taken_from_the_saw_with_a_reason(open_page: OpenPage, site: Site, plan: str) -> None:
    """Without a reason the field is marked and has the focus; with one the plan is withdrawn."""
    site.release()
    page = open_page(plan)
    page.locator("summary", has_text="Withdraw").click()
    page.get_by_role("button", name="Withdraw plan").click()
    reason = page.locator("#withdraw-reason")
    expect(reason).to_have_attribute("aria-invalid", "true")
    expect(reason).to_be_focused()
    assert_accessible(page)
    reason.fill("the job is off until spring")
    page.get_by_role("button", name="Withdraw plan").click()
    expect(page.locator(".state")).to_have_text("withdrawn")
    expect(page.locator(".story")).to_contain_text("the job is off until spring")


def test_the_comparison_comes_by_itself(open_page: OpenPage, site: Site, plan: str) -> None:
    """Asked for, it is made beside the server; the page shows it when it is there."""
    page = open_page(f"{plan}/compare")
    page.get_by_label("Time for it, at most").select_option("10 minutes")  # seconds, unless others work too
    page.get_by_role("button", name="Compare").click()
    expect(page.get_by_role("heading", name="Comparing")).to_be_visible()
    assert_accessible(page)
    table = page.get_by_role("region", name="Whole building, floor by floor, unit by unit")
    expect(table).to_be_visible(timeout=600_000)
    expect(table.get_by_role("row", name=re.compile("^all together"))).to_contain_text("3208.20")
    expect(page.get_by_text("Every run may grow").first).to_be_visible()
    assert_accessible(page)
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    assert_fits(page)


def test_a_plan_on_its_way_is_accessible(open_page: OpenPage, site: Site) -> None:
    """Queued, it shows how it stands; withdrawn before it was made, it says so."""
    headers = {"Content-Type": "application/json"}
    sent = site.client.post("/v1/plans", content=pieces_request({610: 6}), headers=headers).json()["id"]
    page = open_page(f"/plans/{sent}", size=TABLET)
    assert_accessible(page)
    page.locator("summary", has_text="Withdraw").click()
    page.get_by_role("button", name="Withdraw plan").click()
    expect(page.get_by_text("The plan was withdrawn before it was made.")).to_be_visible()
    assert_accessible(page)


def test_what_is_left_out_is_loud(open_page: OpenPage, site: Site) -> None:
    """A piece longer than any bar: said first, listed with its reason, and found by its name."""
    page = open_page(f"/plans/{made(site, pieces_request({610: 6, 2700: 1}, job='WK'))}?piece=L2700")
    expect(page.locator(".answer .warning")).to_contain_text("NOT COMPLETE: 1 PIECE IS NOT PLACED.")
    expect(page.locator("#left-out ~ .sheet")).to_contain_text("2700 mm is longer than any bar")
    expect(page.locator(".bars .warning")).to_contain_text("not placed")
    assert_accessible(page)


def test_the_plan_prints_without_its_frame(page: Page, plan: str) -> None:
    """On paper there is the plan: no navigation, no buttons, black on white."""
    page.goto(plan)
    page.emulate_media(media="print", color_scheme="dark")
    for gone in ("aside", ".tabs", ".filters", "header.frame"):
        expect(page.locator(gone).first).to_be_hidden()
    expect(page.locator(".order-words")).to_be_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
