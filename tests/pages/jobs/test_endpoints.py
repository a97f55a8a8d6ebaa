"""Jobs in a real browser."""

from __future__ import annotations

import json
import re

from playwright.sync_api import Page, expect

from tests.api.service import pieces_request
from tests.pages.browser import OpenPage
from tests.pages.live import Site


def test_from_the_list_to_a_flat_and_to_its_last_bar(page: Page, site: Site) -> None:
    """The yard, floor 3, unit 305: the bar after which it is complete, and its pieces."""
    plan = site.release()
    page.goto("/jobs")
    page.get_by_role("link", name="Orrelbeck Yard").click()
    expect(page.locator(".lede")).to_contain_text("0 of 48 units are complete.")
    page.get_by_role("navigation", name="Floors").get_by_role("link", name="3").click()
    expect(page.locator("table.units")).to_have_count(1)
    row = page.get_by_role("row", name=re.compile("^305 "))
    expect(row).to_contain_text(re.compile(r"after bar \d+"))
    assert f"/plans/{plan}?bar=" in str(row.get_by_role("link", name="after bar").get_attribute("href"))
    row.get_by_role("link", name="305").click()
    expect(page.get_by_role("heading", name="Unit 305, floor 3")).to_be_visible()
    expect(page.get_by_role("row", name=re.compile("OY-305-"))).not_to_have_count(0)


def test_what_is_missing_stands_first(page: Page, site: Site) -> None:
    """A defect on bar 1 leaves its pieces without a bar."""
    plan = site.release()
    pieces = [cut["piece"] for cut in site.client.get(f"/v1/plans/{plan}/bars/1").json()["cuts"]]
    site.post(f"/v1/plans/{plan}/bars/1/report", {"outcome": "defect", "note": "dent"})
    page.goto("/jobs/by-name?name=Orrelbeck+Yard")
    missing = page.get_by_role("region", name="Missing pieces")
    for piece in pieces:
        expect(missing.get_by_role("row", name=re.compile(re.escape(piece)))).to_contain_text("has a defect")


def test_waiting_lines_of_two_jobs_are_planned_together_without_scripts(
    open_page: OpenPage, site: Site
) -> None:
    """Ticked, sent, and there is one plan; without a tick it says what to do."""
    for name in ("Late wing", "Porch"):
        body = json.loads(pieces_request({904: 3}, job=name))
        del body["stock"]
        site.post("/v1/jobs", body)
    page = open_page("/jobs", javascript=False)
    page.get_by_role("button", name="Plan what is waiting").click()
    expect(page.get_by_role("alert")).to_contain_text("Tick the jobs")
    for name in ("Late wing", "Porch"):
        page.get_by_label(f"Plan what is waiting of {name}").check()
    page.get_by_role("button", name="Plan what is waiting").click()
    expect(page).to_have_url(re.compile(r"/plans/[0-9a-f]{32}"))
    assert site.make_plans() == 1
    plan = site.client.get(f"/v1/plans/{site.plan}").json()
    assert plan["state"] == "proposed"


def test_a_job_nobody_knows_is_a_page(page: Page) -> None:
    """By id and by name; never JSON for people."""
    for path in ("/jobs/" + "0" * 32, "/jobs/by-name?name=nobody"):
        answer = page.goto(path)
        assert answer is not None
        assert answer.status == 404
        expect(page.get_by_role("heading", level=1)).to_be_visible()
