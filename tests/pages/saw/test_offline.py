"""Reports survive a lost connection, a reload and a lost answer, and are taken once."""

from __future__ import annotations

from contextlib import ExitStack, closing
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page, Route, expect

from tests.pages.browser import FLAGS, OpenPage, chromium, pages_of
from tests.pages.live import live
from tests.pages.saw.bench import Bench, bench
from tests.pages.saw.tablet import SIZE, at_saw, carried, cut_through, sending, try_now

SENT = "All reports are sent"
POSTS = "**/saw/*"


def post_only(route: Route) -> bool:
    """Pass everything on but reports."""
    if route.request.method != "POST":
        route.continue_()
        return False
    return True


def test_the_shop_cuts_on_without_a_connection(open_saw: OpenPage, saw: Bench) -> None:
    """Two bars are cut and kept while there is none; back again each is taken once."""
    page = at_saw(open_saw, saw, 3)
    page.context.set_offline(True)
    cut_through(page, 3, "41")
    expect(page.locator(".kept .verdict")).to_have_text("Bar 3: cut")
    sending(page, "Kept here, not sent yet (1)")
    page.get_by_role("link", name="Next: bar 4").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 4")
    cut_through(page, 4)
    sending(page, "Kept here, not sent yet (2)")
    assert [saw.state(bar) for bar in (3, 4)] == ["open", "open"]
    page.context.set_offline(False)
    sending(page, SENT)
    assert [saw.state(bar) for bar in (3, 4)] == ["cut", "cut"]
    assert saw.bar(3)["tail"] != ""
    assert saw.cuts() == 2


def test_a_tablet_reloaded_without_a_connection_goes_on(browser: Browser, database: Path) -> None:
    """The service dies, the tablet is reloaded and cuts a bar it had not opened; the report is taken once."""
    service = ExitStack()
    first = service.enter_context(bench(database))
    port = urlsplit(first.url).port or 0
    with service, pages_of(browser, first.url) as open_page:
        page = at_saw(open_page, first, 3)
        page.locator(".step:not([hidden]) button.stroke").click()
        service.close()
        page.reload()
        expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 3")
        expect(page.locator(".step:not([hidden]) .eyebrow")).to_contain_text("Cut 1 of 4")
        cut_through(page, 3)
        sending(page, "Kept here, not sent yet (1)")
        page.goto(first.path(5))
        expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 5")
        sending(page, "Kept here, not sent yet (1)")
        with bench(database, port) as second:
            try_now(page)
            sending(page, SENT)
            assert (second.state(3), second.cuts()) == ("cut", 1)


def test_a_lost_answer_is_asked_for_again_and_the_bar_is_cut_once(open_saw: OpenPage, saw: Bench) -> None:
    """The service has taken the report, the answer never arrives: the same report is sent again."""
    page = at_saw(open_saw, saw, 2)
    lost: list[int] = []

    def lose(route: Route) -> None:
        if post_only(route):
            lost.append(route.fetch().status)
            route.abort()

    page.route(POSTS, lose)
    with page.expect_event("requestfailed"):
        cut_through(page, 2, "1881")
    sending(page, "Kept here, not sent yet (1)")
    assert (lost[:1], saw.state(2), saw.cuts()) == ([200], "cut", 1)
    # Nobody can know whether it has arrived, so it is not taken back any more.
    expect(page.get_by_role("button", name="Change it")).to_be_hidden()
    page.unroute(POSTS)
    try_now(page)
    sending(page, SENT)
    expect(page.locator(".result")).to_contain_text("P1-2")
    assert saw.cuts() == 1


def test_two_tabs_send_a_report_once(open_saw: OpenPage, saw: Bench) -> None:
    """Both see what is kept, both are told that the connection is back; one of them sends."""
    page = at_saw(open_saw, saw, 3)
    other = page.context.new_page()
    other.goto(saw.path(3))
    carried(other)
    sent: list[str] = []
    for tab in (page, other):
        tab.on("request", lambda one: sent.append(one.url) if one.method == "POST" else None)
    page.context.set_offline(True)
    cut_through(page, 3)
    sending(other, "Kept here, not sent yet (1)")
    expect(other.locator(".kept .verdict")).to_have_text("Bar 3: cut")
    sent.clear()
    page.context.set_offline(False)
    for tab in (page, other):
        tab.evaluate("dispatchEvent(new Event('online'))")
        sending(tab, SENT)
    assert saw.cuts() == 1
    assert len(sent) == 1


def test_what_the_service_refuses_stays_with_its_reason(open_saw: OpenPage, saw: Bench) -> None:
    """Another tablet was first: the report is not lost in silence, and goes when somebody says so."""
    page = at_saw(open_saw, saw, 3)
    page.context.set_offline(True)
    cut_through(page, 3)
    saw.site.post(f"/v1/plans/{saw.plan}/bars/3/report", {"outcome": "defect"})
    page.context.set_offline(False)
    sending(page, "Not taken (1)")
    said = page.locator("#outbox li")
    expect(said).to_contain_text("NOT TAKEN: Bar 3 is reported as defect already, by this machine.")
    page.reload()
    sending(page, "Not taken (1)")
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Drop this report").click()
    sending(page, SENT)
    expect(page.locator("#outbox")).to_be_hidden()
    assert saw.state(3) == "defect"


def test_what_was_refused_can_be_put_right(open_saw: OpenPage, saw: Bench) -> None:
    """A tail longer than the bar, surely measured twice: changed to what it is, it is taken."""
    page = at_saw(open_saw, saw, 3)
    cut_through(page, 3, "3000")
    page.get_by_label("Measured again").check()
    page.get_by_role("button", name="Bar 3 is cut").click()
    sending(page, "Not taken (1)")
    expect(page.locator(".kept")).to_contain_text("Bar 3 cannot leave a tail of 3000 mm.")
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_label("Measured tail")).to_have_value("3000")
    page.get_by_label("Measured tail").fill("41")
    page.get_by_role("button", name="Bar 3 is cut").click()
    sending(page, SENT)
    assert saw.state(3) == "cut"


def test_a_report_not_sent_yet_can_be_changed(open_saw: OpenPage, saw: Bench) -> None:
    """Kept while the browser itself knows of no connection, it has gone nowhere, so it is taken back."""
    page = at_saw(open_saw, saw, 4)
    page.context.set_offline(True)
    page.get_by_text("Something is wrong with this bar").click()
    page.get_by_label("What and where").fill("dent")
    page.get_by_label("No more is cut from bar 4").check()
    page.get_by_role("button", name="Set bar 4 aside").click()
    sending(page, "Kept here, not sent yet (1)")
    page.get_by_role("button", name="Change it").click()
    sending(page, "No connection")
    expect(page.get_by_label("What and where")).to_have_value("dent")
    cut_through(page, 4)
    page.context.set_offline(False)
    sending(page, SENT)
    assert saw.state(4) == "cut"


def test_a_damaged_bar_knows_the_cuts_ticked_off(open_saw: OpenPage, saw: Bench) -> None:
    """One tap sends nothing; what is ticked stays made, and a rest that cannot be read is asked again."""
    page = at_saw(open_saw, saw, 4)
    page.get_by_role("button", name="Trimmed").click()
    page.get_by_role("button", name="Cut 1 done").click()
    page.get_by_text("Something is wrong with this bar").click()
    expect(page.get_by_label("Cuts made before")).to_have_value("1")
    expect(page.get_by_role("button", name="was not found")).to_be_hidden()
    aside = page.get_by_role("button", name="Set bar 4 aside")
    aside.click()
    assert saw.state(4) == "open"
    page.get_by_label("No more is cut from bar 4").check()
    page.get_by_label("Good length left").fill("18oo")
    aside.click()
    expect(page.get_by_text("Not understood. Like 396.5")).to_be_visible()
    page.get_by_label("Good length left").fill("1800")
    aside.click()
    expect(page.get_by_text("1 of 4 cuts made, then set aside: defect")).to_be_visible()
    assert (saw.state(4), saw.bar(4)["born"]) == ("cut", "P1-4")


def test_without_https_the_tablet_carries_its_bars_all_the_same(browser: Browser, database: Path) -> None:
    """A plain address gets neither worker nor locks: no reload then, but cutting on and sending once."""
    rule = "--host-resolver-rules=MAP saw.test 127.0.0.1"
    program = chromium()
    assert program is not None
    with (
        live(database, hosts=["saw.test"]) as site,
        closing(browser.browser_type.launch(executable_path=program, args=[*FLAGS, rule])) as plain,
    ):
        saw = Bench(site, site.plan)
        page = plain.new_page(base_url=f"http://saw.test:{urlsplit(site.url).port}")
        faults: list[str] = []
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(saw.path(3))
        assert page.evaluate("[isSecureContext, Boolean(navigator.locks)]") == [False, False]
        expect(page.locator("body[data-carried=bars]")).to_be_attached(timeout=60_000)
        page.context.set_offline(True)
        cut_through(page, 3)
        page.get_by_role("link", name="Next: bar 4").click()
        cut_through(page, 4)
        sending(page, "Kept here, not sent yet (2)")
        page.context.set_offline(False)
        sending(page, SENT)
        assert (saw.cuts(), faults) == (2, [])


def test_a_tablet_does_not_carry_old_plans_for_ever(open_saw: OpenPage, saw: Bench) -> None:
    """Of seven plans the four that came last stay, this one among them, and one version of each file."""
    page = at_saw(open_saw, saw, 3)
    page.evaluate(
        """async () => {
          const cache = await caches.open("saw");
          const plans = "abcdef".split("").map(one => `/plans/${one.repeat(32)}/saw/sheets`);
          for (const one of [...plans, "/static/saw.css?v=old"]) await cache.put(one, new Response("old"));
        }"""
    )
    page.reload()
    carried(page)
    kept = page.evaluate(
        "caches.open('saw').then(cache => cache.keys()).then(all => all.map(one => one.url))"
    )
    plans = {url.split("/")[4] for url in kept if "/plans/" in url}
    assert plans == {saw.plan, *(one * 32 for one in "def")}
    assert sum("/static/saw.css" in url for url in kept) == 1


def answer_with(page: Page, **answer: Any) -> None:
    """Let something that is not the service answer reports."""

    def stand_in(route: Route) -> None:
        if post_only(route):
            route.fulfill(**answer)

    page.route(POSTS, stand_in)


def test_a_stranger_s_answer_is_no_answer(open_saw: OpenPage, saw: Bench) -> None:
    """A network that asks for its own password answers 200 to everything: the report stays."""
    page = at_saw(open_saw, saw, 3)
    answer_with(page, status=200, content_type="text/html", body="<h1>Welcome to the guest network</h1>")
    cut_through(page, 3)
    sending(page, "Kept here, not sent yet (1)")
    answer_with(page, status=403, content_type="application/json", body='{"error": "blocked"}')
    try_now(page)
    sending(page, "Kept here, not sent yet (1)")
    page.unroute(POSTS)
    try_now(page)
    sending(page, SENT)
    assert saw.cuts() == 1


def test_signed_out_reports_wait_for_somebody_to_sign_in(open_saw: OpenPage, saw: Bench) -> None:
    """The way to the sign-in page is shown; nothing is dropped."""
    page = at_saw(open_saw, saw, 3)
    problem = '{"type": "urn:nesting:problem:key-needed", "detail": "A key is needed."}'
    answer_with(page, status=401, content_type="application/problem+json", body=problem)
    cut_through(page, 3)
    expect(page.locator("#outbox").get_by_role("link", name="Sign in")).to_be_visible()
    sending(page, "Kept here, not sent yet (1)")


def test_what_waits_does_not_push_the_bar_off_the_screen(open_saw: OpenPage, saw: Bench) -> None:
    """With reports waiting the button is still on the tablet's first screen; what is refused comes first."""
    page = at_saw(open_saw, saw, 3)
    page.context.set_offline(True)
    cut_through(page, 3)
    page.get_by_role("link", name="Next: bar 4").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bar 4")
    page.locator(".step:not([hidden]) button.stroke").click()
    button = page.locator(".step:not([hidden]) button.stroke").bounding_box()
    assert button is not None
    assert button["y"] + button["height"] <= SIZE[1]
    expect(page.locator("#outbox li")).to_have_text("Bar 3: cut. Not sent yet.")


def test_a_piece_that_came_out_wrong_is_reported_from_the_tablet(open_saw: OpenPage, saw: Bench) -> None:
    """Its measure is read here as strictly as a tail's; changed again, it is still in its field."""
    page = at_saw(open_saw, saw, 3)
    page.context.set_offline(True)
    page.locator(".strokes").get_by_role("link", name="tail").click()
    page.get_by_text("A piece came out wrong").click()
    came = page.get_by_label("Came out at").nth(1)
    came.fill("about 6")
    page.get_by_role("button", name="Bar 3 is cut").click()
    expect(page.get_by_text("Not understood")).to_be_visible()
    came.fill("598")
    page.get_by_role("button", name="Bar 3 is cut").click()
    sending(page, "Kept here, not sent yet (1)")
    page.get_by_role("button", name="Change it").click()
    expect(came).to_have_value("598")
    page.get_by_role("button", name="Bar 3 is cut").click()
    page.context.set_offline(False)
    sending(page, SENT)
    expect(page.locator(".result")).to_contain_text("TO MAKE AGAIN")
    assert list(saw.bar(3)["kept"].values()) == ["P1-3S1"]  # type: ignore[attr-defined]


def test_a_report_taken_back_is_not_sent_again(open_saw: OpenPage, saw: Bench) -> None:
    """What the tablet still keeps of the bar, its answer lost, is let go of when the report is taken back."""
    page = at_saw(open_saw, saw, 2)
    cut_through(page, 2, "1881")
    sending(page, SENT)
    expect(page.locator(".result")).to_contain_text("P1-2")
    fields = [["key", "late"], ["outcome", "cut"]]
    kept = {"plan": saw.plan, "bar": 2, "outcome": "cut", "at": 1, "words": "cut", "fields": fields}
    kept |= {"tail": "", "tag": "", "tried": True, "refused": ""}
    page.evaluate("one => localStorage.setItem(`saw report ${one.plan} 2`, JSON.stringify(one))", kept)
    page.get_by_text("That was reported by mistake").click()
    page.get_by_label("What was wrong").fill("it was bar 3")
    page.keyboard.press("Enter")
    expect(page.locator(".reopened")).to_contain_text("it was bar 3")
    carried(page)
    assert page.evaluate("Object.keys(localStorage).filter(one => one.startsWith('saw report'))") == []
    assert (saw.state(2), saw.cuts()) == ("open", 1)
