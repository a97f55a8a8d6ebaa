"""A plan being made, in a real browser: what is known so far, news as they come, stopped by hand."""

from __future__ import annotations

from playwright.sync_api import expect

from api.processes.solver import make
from api.worker import queue
from tests.api.service import TERMS, pieces_request
from tests.pages.browser import OpenPage, assert_accessible
from tests.pages.live import Site

JSON = {"Content-Type": "application/json"}
NEWS = {
    "groups": 4,
    "done": 1,
    "group": "TOLV-17N natural",
    "phase": "columns",
    "best": 10_254_000,
    "bound": 10_200_000,
    "gap": 0.005266,
    "priced": True,
}


def at_work(site: Site) -> queue.Claim:
    """Have a plan taken up by a worker that takes its time."""
    site.client.post("/v1/plans", content=pieces_request({904: 3}), headers=JSON).raise_for_status()
    claimed = queue.claim(site.store, "slow", TERMS)
    assert claimed is not None
    return claimed


def tell(site: Site, claimed: queue.Claim, **news: object) -> frozenset[str]:
    """Bring news of the search; give the plans that are to be cut short."""
    held = {(claimed.plan_id, claimed.attempt)}
    return queue.renew(site.store, "slow", held, {claimed.plan_id: NEWS | news}, TERMS).cancelled


def test_best_bound_and_gap_come_live_and_then_the_plan(open_page: OpenPage, site: Site) -> None:
    """Nobody touches the page: 1025.40 against 1020.00 is a gap of 0.53 %; then the plan stands there."""
    claimed = at_work(site)
    page = open_page(f"/plans/{claimed.plan_id}")
    tell(site, claimed)
    expect(page.locator('[data-say="best"]')).to_have_text("1025.40")
    expect(page.locator('[data-say="bound"]')).to_have_text("1020.00")
    expect(page.locator('[data-say="gap"]')).to_have_text("0.53 %")
    expect(page.locator('[data-say="words"]')).to_have_text("1 of 4\u00a0materials done")
    tell(site, claimed, done=2, bound=None, gap=None, best=31, priced=False)
    expect(page.locator('[data-say="best"]')).to_have_text("31\u00a0new bars")
    expect(page.locator('[data-say="bound"]')).to_have_text("–")
    assert_accessible(page)
    assert queue.finish(site.store, "slow", claimed.plan_id, claimed.attempt, make(queue.work_of(claimed)))
    expect(page.locator("#progress")).to_have_count(0, timeout=10_000)
    expect(page.get_by_text("proposed").first).to_be_visible()


def test_the_same_words_without_scripts(open_page: OpenPage, site: Site) -> None:
    """The page looks again by itself, and says what the live one says."""
    claimed = at_work(site)
    tell(site, claimed)
    page = open_page(f"/plans/{claimed.plan_id}", javascript=False)
    expect(page.locator('[data-say="best"]')).to_have_text("1025.40")
    expect(page.locator('[data-say="gap"]')).to_have_text("0.53 %")
    assert page.locator('meta[http-equiv="refresh"]').count() == 1
    tell(site, claimed, done=3)
    expect(page.locator('[data-say="words"]')).to_have_text("3 of 4\u00a0materials done", timeout=10_000)


def test_stop_keeps_the_best(open_page: OpenPage, site: Site) -> None:
    """The worker hears of it at once; the page waits for what it has."""
    claimed = at_work(site)
    assert tell(site, claimed) == frozenset()
    page = open_page(f"/plans/{claimed.plan_id}", javascript=False)
    page.get_by_role("button", name="Stop and keep the best").click()
    assert tell(site, claimed) == frozenset({claimed.plan_id})
    expect(page.locator('[data-say="words"]')).to_have_text("Stopping; the best plan so far is kept")
    expect(page.get_by_role("button", name="Stop and keep the best")).to_have_count(0)


def test_the_heading_keeps_up_with_the_search(open_page: OpenPage, site: Site) -> None:
    """Asked for while it waits, the page does not go on saying so beside what the search is at work on."""
    sent = site.client.post("/v1/plans", content=pieces_request({904: 3}), headers=JSON).json()
    page = open_page(f"/plans/{sent['id']}")
    expect(page.locator(".plan-head .state")).to_have_text("queued")
    claimed = queue.claim(site.store, "slow", TERMS)
    assert claimed is not None
    tell(site, claimed)
    expect(page.locator(".plan-head .state")).to_have_text("solving")
    assert "solving" in page.title()
    assert "queued" not in page.title()
