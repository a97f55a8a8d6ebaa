"""New plan in a real browser: a list comes in, is settled, and goes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, FilePayload, Page, Route, expect

from tests.pages.browser import PATIENCE, PHONE, OpenPage, assert_accessible, assert_fits, pages_of
from tests.pages.live import Site, copy_of, live

ROWS = (
    "Run\tQuantity\tLength (mm)\tFamily\tFinish\n"
    "305-1\t2\t920.75\tTOLV-17N\tnatural\n"
    "305-2\t1\t12oo\tTOLV-17N\tnatural\n"
    "305-3\t1\t1,250\tTOLV-17N\tnatural\n"
)
PLAN = re.compile(r"/plans/[0-9a-f]{32}$")
DRAFT = re.compile(r"/drafts/[0-9a-f]{32}")


def paste(page: Page, rows: str = ROWS) -> None:
    """Paste rows and have them read."""
    page.goto("/new")
    page.get_by_label("Pasted rows").fill(rows)
    page.get_by_role("button", name="Read the list").click()
    expect(page).to_have_url(DRAFT)
    page.wait_for_load_state("load")  # before that the page's script may not listen yet


def let_go(page: Page, held: list[Route]) -> None:
    """Wait for the request that is held back next, and let the service answer it."""
    for _ in range(PATIENCE // 20):
        if held:
            break
        page.wait_for_timeout(20)
    held.pop().continue_()


def row(page: Page, number: int) -> str:
    """Give what stands in a row of the table."""
    return page.locator(f"#row-{number}").inner_text().replace("\u00a0", " ")


def test_pasted_rows_are_settled_and_planned_without_scripts(open_page: OpenPage, site: Site) -> None:
    """What is wrong stands beside its cell; two corrections and it goes, as plain forms."""
    page = open_page(javascript=False)
    paste(page)
    expect(page.locator("#verdict")).to_contain_text("2 things must be settled")
    assert "2 × 920.75" in row(page, 2)
    assert "36 1/4" in row(page, 2)  # 920.75 mm = 36.25 in, exactly
    expect(page.get_by_text("It could be 1250 mm or 1.25 mm.")).to_be_visible()
    expect(page.get_by_role("button", name="Start planning")).to_have_count(0)
    page.get_by_label("C3, correct it here").fill("1200")
    page.get_by_label("C4, correct it here").fill("1250 mm")
    page.get_by_role("button", name="Read again").first.click()
    expect(page.locator("#verdict")).to_contain_text("Every row is understood")
    expect(page.locator("#row-3")).to_contain_text("was 12oo")
    page.get_by_role("button", name="Start planning").first.click()
    expect(page).to_have_url(PLAN)
    assert site.make_plans() == 1
    made = site.client.get(f"/v1/plans/{site.plan}").json()
    assert (made["state"], made["summary"]["pieces"]) == ("proposed", 4)


def test_a_cell_is_corrected_in_place(open_page: OpenPage) -> None:
    """The page stays where it is, the row is read anew, and typing goes on where it was."""
    page = open_page()
    paste(page)
    page.evaluate("window.same = true")
    page.get_by_label("C3, correct it here").fill("1200")
    page.keyboard.press("Tab")
    expect(page.locator("#row-3")).to_contain_text("1 × 1200")
    expect(page.locator("#verdict")).to_contain_text("1 thing must be settled")
    page.get_by_label("C4, correct it here").fill("1250")
    page.keyboard.press("Enter")
    expect(page.locator("#verdict")).to_contain_text("Every row is understood")
    expect(page.get_by_role("status")).to_contain_text("Every row is understood")
    expect(page.get_by_role("button", name="Start planning").first).to_be_focused()
    assert page.evaluate("window.same") is True
    assert_accessible(page)


def test_any_row_can_be_opened_changed_and_left_out(open_page: OpenPage) -> None:
    """Also what was read without a word can be wrong; a row left out can be brought back by its file only."""
    page = open_page()
    paste(page)
    page.get_by_role("link", name="Correct row 2").click()
    page.get_by_label("B2", exact=True).fill("3")
    page.keyboard.press("Enter")
    expect(page.locator("#row-2")).to_contain_text("3 × 920.75")
    page.get_by_role("link", name="Correct row 3").click()
    expect(page.get_by_label("A3", exact=True)).to_be_focused()
    page.get_by_label("A3", exact=True).fill("305-9")  # still on its way when the button is pressed
    page.get_by_role("button", name="Leave this row out").click()
    expect(page.locator("#row-3")).to_have_count(0)
    expect(page.locator("#verdict")).to_contain_text("1 thing must be settled")


def test_a_slow_answer_undoes_nothing(open_page: OpenPage) -> None:
    """A row opened while the last correction is on its way opens after it, and Enter sends once."""
    page = open_page()
    paste(page)
    page.get_by_role("link", name="Correct row 2").click()
    held: list[Route] = []
    page.route("**/read", lambda route: held.append(route))
    page.get_by_label("B2", exact=True).fill("3")
    page.keyboard.press("Enter")
    expect(page.locator("#draft")).to_have_attribute("aria-busy", "true")
    assert_accessible(page)
    page.get_by_role("link", name="Correct row 3").click()
    let_go(page, held)
    expect(page.locator("#row-2")).to_contain_text("3 × 920.75")
    expect(page.get_by_label("A3", exact=True)).to_be_focused()
    assert not held


def test_what_is_typed_while_an_answer_is_on_its_way_is_sent_after_it(open_page: OpenPage) -> None:
    """Two cells filled in faster than the service reads them: both are read, and the third is typed in."""
    page = open_page()
    paste(page)
    held: list[Route] = []
    page.route("**/read", lambda route: held.append(route))
    page.get_by_label("C3, correct it here").fill("1200")
    page.get_by_label("C4, correct it here").fill("1250")
    page.get_by_label("Kerf").focus()
    let_go(page, held)
    expect(page.locator("#row-3")).to_contain_text("1 × 1200")
    expect(page.locator("#draft")).to_have_attribute("aria-busy", "true")
    expect(page.get_by_label("Kerf")).to_be_focused()
    let_go(page, held)
    expect(page.locator("#verdict")).to_contain_text("Every row is understood")
    expect(page.get_by_label("Kerf")).to_be_focused()
    assert not held


def test_a_heading_that_means_nothing_is_corrected(open_page: OpenPage) -> None:
    """A list without a unit is asked about; the unit can be written into its heading."""
    page = open_page(javascript=False)
    paste(page, ROWS.replace("Length (mm)", "Length").replace("12oo", "1200").replace("1,250", "900"))
    expect(page.locator("#verdict")).to_contain_text("must be settled")
    page.get_by_role("link", name="Correct a heading").click()
    page.get_by_label("C1", exact=True).fill("Length in mm")
    page.get_by_role("button", name="Read again").first.click()
    expect(page.locator("#verdict")).to_contain_text("Every row is understood")


def test_headings_that_mean_nothing_are_written_anew(open_page: OpenPage) -> None:
    """The list is shown as it begins; its first row becomes the headings once they are corrected."""
    page = open_page(javascript=False)
    paste(page, "alpha\tbeta\tgamma\n305-1\t2\t920\n305-2\t1\t700\n")
    expect(page.get_by_text("The list begins like this")).to_be_visible()
    page.get_by_role("link", name="Correct row 1").click()
    for cell, heading in (("A1", "Run"), ("B1", "Quantity"), ("C1", "Length (mm)")):
        page.get_by_label(cell, exact=True).fill(heading)
    page.get_by_role("button", name="Read again").first.click()
    expect(page.locator("#row-3")).to_contain_text("1 × 700")


def test_saw_and_bars_are_chosen_with_their_defaults_named(open_page: OpenPage, site: Site) -> None:
    """Nothing is taken silently; what is not understood is said beside its field, all at once."""
    page = open_page(javascript=False)
    paste(page, ROWS.replace("12oo", "1200").replace("1,250", "900"))
    expect(page.locator("#kerf-hint")).to_contain_text("3 mm is taken (common practice)")
    page.get_by_label("Kerf").fill("4")
    page.get_by_label("Head trim").fill("wide")
    page.get_by_label("Bars on offer").fill("6000 mm = 18.60\n3000 = 9.90")
    page.get_by_role("button", name="Start planning").first.click()
    for name in ("kerf", "head_trim", "bars"):
        expect(page.locator(f"#{name}-fault")).to_be_visible()
    page.get_by_label("Kerf").fill("4 mm")
    page.get_by_label("Head trim").fill("")
    page.get_by_label("Bars on offer").fill("")
    page.get_by_label("Title of the plan").fill("Unit 305")
    page.get_by_role("button", name="Read again").first.click()
    page.get_by_role("button", name="Start planning").first.click()
    expect(page).to_have_url(PLAN)
    asked = site.client.get(f"/v1/plans/{site.plan}/request").json()
    assert asked["title"] == "Unit 305"
    assert asked["saw"]["kerf_nm"] == 4_000_000


def test_a_dropped_file_is_read(open_page: OpenPage) -> None:
    """Dropped anywhere on the page it is sent as if it had been chosen."""
    page = open_page("/new")
    page.evaluate(
        """text => {
            const held = new DataTransfer();
            held.items.add(new File([text], "Unit 305.tsv", { type: "text/plain" }));
            document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: held, bubbles: true }));
        }""",
        ROWS,
    )
    expect(page.get_by_role("heading", level=1)).to_have_text("Unit 305.csv")


def test_a_chosen_workbook_is_read_on_a_phone(open_page: OpenPage, tmp_path: Path) -> None:
    """338 rows of the demo come back a page at a time, and fit."""
    from nesting.demo import tables
    from nesting.sheets.template import write_template

    path = tmp_path / "runs.xlsx"
    write_template(path, tables())
    page = open_page("/new", size=PHONE)
    page.get_by_label("Workbook, text with separators").set_input_files(path)
    page.get_by_role("button", name="Read the list").click()
    expect(page.locator("#verdict")).to_contain_text("Every row is understood", timeout=30_000)
    assert page.locator("tr.line").count() == 100
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="2", exact=True).click()
    expect(page.locator("#row-102")).to_be_visible()
    assert_fits(page)


def test_nothing_given_and_nothing_readable_are_said_on_the_page(open_page: OpenPage) -> None:
    """A button pressed too early and a picture sent by mistake."""
    page = open_page("/new", javascript=False)
    page.get_by_role("button", name="Read the list").click()
    expect(page.get_by_role("alert")).to_contain_text("paste some rows")
    picture = FilePayload(name="site.jpg", mimeType="image/jpeg", buffer=b"\xff\xd8")
    page.get_by_label("Workbook, text with separators").set_input_files(picture)
    page.get_by_role("button", name="Read the list").click()
    expect(page.get_by_role("alert")).to_contain_text("site.jpg")


def test_a_draft_survives_a_restart(browser: Browser, demo_database: Path, tmp_path: Path) -> None:
    """A list half settled is there in the morning, with what was settled."""
    made = copy_of(demo_database, tmp_path)
    with live(made) as site, pages_of(browser, site.url) as open_page:
        page = open_page(javascript=False)
        paste(page)
        page.get_by_label("C3, correct it here").fill("1200")
        page.get_by_role("button", name="Read again").first.click()
    with live(made) as site, pages_of(browser, site.url) as open_page:
        page = open_page("/new", javascript=False)
        page.get_by_role("link", name="pasted rows.csv").click()
        expect(page.locator("#row-3")).to_contain_text("1 × 1200")
        expect(page.locator("#verdict")).to_contain_text("1 thing must be settled")


def test_with_the_keyboard_alone(open_page: OpenPage, site: Site) -> None:
    """From the first page to a plan in the queue, and the focus can be seen all the way."""
    page = open_page("/")

    def tab_to(name: str) -> None:
        for _ in range(60):
            page.keyboard.press("Tab")
            focus = page.evaluate(
                "() => { const at = document.activeElement, label = at.labels && at.labels[0];"
                " return [(at.getAttribute('aria-label') || (label || at).textContent).trim(),"
                " getComputedStyle(at).outlineStyle]; }"
            )
            if str(focus[0]).startswith(name):
                assert focus[1] != "none"
                return
        pytest.fail(f"no way to {name!r} by the keyboard")

    tab_to("New plan")
    page.keyboard.press("Enter")
    page.wait_for_url("**/new")
    tab_to("Pasted rows")
    page.keyboard.insert_text(ROWS.replace("1,250", "900"))
    tab_to("Read the list")
    page.keyboard.press("Enter")
    page.wait_for_url(DRAFT)
    tab_to("pasted rows.csv C3, correct it here")
    page.keyboard.press("Control+a")
    page.keyboard.insert_text("1200")
    page.keyboard.press("Enter")
    expect(page.locator("#verdict")).to_contain_text("Every row is understood")
    tab_to("Start planning")
    page.keyboard.press("Enter")
    page.wait_for_url(PLAN)
    assert site.client.get(f"/v1/plans/{site.plan}").json()["state"] == "queued"


def test_a_list_that_is_dropped_is_gone(open_page: OpenPage) -> None:
    """Its address says so as a page."""
    page = open_page(javascript=False)
    paste(page)
    address = page.url
    page.get_by_role("button", name="Drop this list").click()
    expect(page).to_have_url(re.compile("/new$"))
    answer = page.goto(address)
    assert answer is not None
    assert answer.status == 404
    expect(page.get_by_role("heading", level=1)).to_have_text("Not found")
