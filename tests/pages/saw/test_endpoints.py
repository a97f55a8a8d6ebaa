"""The pages of the saw as a browser without scripts asks for them."""

from __future__ import annotations

import re
from html import unescape

from httpx2 import Response

from nesting.units import mm
from tests.pages.live import Site
from tests.pages.saw.bench import BARS, OFFCUT, PLACE, Bench

HTML = {"Accept": "text/html"}


def get(saw: Bench, path: str) -> str:
    """Fetch a page."""
    answer = saw.site.client.get(path, headers=HTML)
    assert answer.status_code == 200, answer.text
    return unescape(answer.text)


def send(saw: Bench, bar: int, accept: str = "text/html", **fields: object) -> Response:
    """Send the form of a bar."""
    return saw.site.client.post(saw.path(bar), data=fields, headers={"Accept": accept})


def test_the_list_shows_every_bar_and_where_to_begin(saw: Bench) -> None:
    """Five bars to cut; after the first report the second is next."""
    page = get(saw, saw.path())
    assert page.count('data-state="open"') == BARS
    assert "Begin with bar 1" in page
    send(saw, 1, outcome="cut")
    page = get(saw, saw.path())
    assert (page.count('data-state="open"'), "Go on with bar 2" in page) == (BARS - 1, True)


def test_an_offcut_is_taken_by_tag_and_place_as_they_are_now(saw: Bench) -> None:
    """The storekeeper has moved it since the plan was made: the saw sends people to the new place."""
    assert f"rack {PLACE}" in get(saw, saw.path(1))
    tag = saw.site.client.get(f"/v1/offcuts/{OFFCUT}").headers["ETag"]
    body = {"place": "D, floor", "reason": "tidied up"}
    moved = saw.site.client.patch(f"/v1/offcuts/{OFFCUT}", json=body, headers={"If-Match": tag})
    assert moved.status_code == 200, moved.text
    page = get(saw, saw.path(1))
    assert (OFFCUT in page, "rack D, floor" in page, PLACE in page) == (True, True, False)


def test_steps_are_links_without_a_script(saw: Bench) -> None:
    """The address names the step; one too far is the tail, and only one step is shown."""
    for cut, shown in ((0, "0"), (2, "2"), (99, "5")):
        page = get(saw, saw.path(3, cut))
        steps = re.findall(r'<section class="step" data-step="(\d)"[^>]*?( hidden)?>', page)
        assert [step for step, hidden in steps if not hidden] == [shown]


def test_a_report_shows_what_the_tail_became(saw: Bench) -> None:
    """Bar 2 leaves 1879; measured 1881 it goes to the rack as P1-2, with a label to print."""
    sent = send(saw, 2, outcome="cut", tail="1881", unit="mm", place="A2", key="k1")
    assert (sent.status_code, sent.headers["Location"]) == (303, saw.path(2))
    page = get(saw, saw.path(2))
    assert "1881\N{NO-BREAK SPACE}mm" in page
    assert "rack A2" in page
    assert 'href="/rack/P1-2/label"' in page
    assert "Next: bar 3" in page


def test_the_same_report_again_is_answered_the_same(saw: Bench) -> None:
    """Twice under one key, by form and by script: one cut in the books, one offcut."""
    fields = {"outcome": "cut", "tail": "1881", "unit": "mm", "key": "k1"}
    first = send(saw, 2, "application/json", **fields)
    again = send(saw, 2, "application/json", **fields)
    assert first.status_code == again.status_code == 200
    assert first.json() == again.json()
    assert (first.json()["bar"], first.json()["state"], first.json()["born"]) == (2, "cut", "P1-2")
    assert send(saw, 2, **fields).status_code == 303
    assert saw.cuts() == 1


def test_what_is_wrong_stands_beside_its_field_and_what_was_typed_stays(saw: Bench) -> None:
    """A tail nobody can read, and a place: the form comes back with both texts; nothing is reported."""
    sent = send(saw, 3, outcome="cut", tail="about 40", place="A2", key="k2")
    page = unescape(sent.text)
    assert sent.status_code == 422
    assert 'value="about 40"' in page
    assert 'value="A2"' in page
    assert 'aria-describedby="tail-fault"' in page
    assert saw.state(3) == "open"


def test_a_doubtful_tail_is_asked_back_and_then_taken(saw: Bench) -> None:
    """55 where 40 should be left; measured again it is what it is."""
    fields = {"outcome": "cut", "tail": "55", "unit": "mm", "key": "k3"}
    asked = send(saw, 3, **fields)
    assert asked.status_code == 422
    assert re.search(r'<p data-doubt="long"><b>STOP', asked.text)
    assert re.search(r'<p data-doubt="short" hidden>', asked.text)
    assert send(saw, 3, **fields, sure="1").status_code == 303
    assert saw.state(3) == "cut"


def test_spoiled_pieces_a_defect_and_a_missing_bar(saw: Bench) -> None:
    """Each way in which a bar goes wrong is told, with the pieces that must be made again."""
    piece = saw.bar(3)["cuts"][1]["piece"]  # type: ignore[index]
    send(saw, 3, outcome="cut", spoiled=[piece], note="slipped")
    page = get(saw, saw.path(3))
    assert f"TO MAKE AGAIN</b> {piece}" in page
    assert "“slipped”" in page
    send(saw, 4, outcome="defect", made="0", final="1", note="dent at 1200")
    assert "set aside: defect" in get(saw, saw.path(4))
    send(saw, 1, outcome="missing", final="1", note="not at its place")
    assert "not found" in get(saw, saw.path(1))
    assert [saw.state(bar) for bar in (1, 3, 4)] == ["missing", "cut", "defect"]


def test_what_came_out_of_a_piece_gets_a_tag_to_write_on_it(saw: Bench) -> None:
    """598 instead of 610: it goes on the rack, and the page shows the tag and its label."""
    piece = saw.bar(3)["cuts"][1]["piece"]  # type: ignore[index]
    sent = send(saw, 3, outcome="cut", tail="52", unit="mm", piece=["other", piece], came=["", "598"])
    assert sent.status_code == 303, sent.text
    (tag,) = saw.bar(3)["kept"].values()  # type: ignore[attr-defined]
    page = get(saw, saw.path(3))
    assert f"What came out of {piece} is kept as" in page
    assert f'href="/rack/{tag}/label"' in page


def test_what_came_out_too_short_stays_at_the_saw(saw: Bench) -> None:
    """Below the keep length nobody looks for it on the rack; its own plan may still cut a piece of it."""
    piece = saw.bar(3)["cuts"][1]["piece"]  # type: ignore[index]
    send(saw, 3, outcome="cut", piece=[piece], came=["200"], unit="mm")
    assert saw.bar(3)["short"] == list(saw.bar(3)["kept"].values())  # type: ignore[attr-defined]
    assert "too short for the rack; leave it at the saw" in get(saw, saw.path(3))


def test_an_older_plan_shows_the_way_to_the_one_that_goes_on_from_it(saw: Bench) -> None:
    """After planning again nobody cuts from the old list: every page of it says so."""
    send(saw, 3, outcome="cut")
    assert "PLANNED AGAIN" not in get(saw, saw.path())
    saw.site.post(f"/v1/plans/{saw.plan}/replan")
    new = saw.site.plan
    assert new != saw.plan
    for path in (saw.path(), saw.path(3), saw.path(4)):
        page = get(saw, path)
        assert f'href="/plans/{new}/saw">Go on with plan P2' in page
    assert "not cut any more" in get(saw, saw.path(4))


def test_a_bar_damaged_after_a_cut_keeps_what_was_made(saw: Bench) -> None:
    """Before it is sent the form says what is to make again; after it, what was made, and where the rest is.

    1800 mm of the 1879 behind the first cut of bar 3 are good.
    """
    page = get(saw, saw.path(3, 2))
    assert '<option value="1" selected>1: 3 of 4 to make again</option>' in page
    first, *others = [cut["piece"] for cut in saw.bar(3)["cuts"]]  # type: ignore[attr-defined]
    send(saw, 3, outcome="defect", made="1", rest="1800", unit="mm", place="C1", note="scratch", final="1")
    page = get(saw, saw.path(3))
    assert "1 of 4 cuts made, then set aside: defect" in page
    assert f"TO MAKE AGAIN</b> {', '.join(others)}." in page
    assert re.search(r'Its good rest is offcut <span class="plate">P1-3</span>, <b>1800.mm</b>', page)
    assert page.count('data-is="done"') == 2  # the trim and cut 1
    born = saw.site.client.get("/v1/offcuts/P1-3").json()
    assert (born["state"], born["place"], born["length"]["nm"]) == ("free", "C1", mm(1800))
    assert first not in saw.bar(3)["open_pieces"]  # type: ignore[operator]


def test_giving_a_bar_up_is_asked_back_where_it_was_typed(saw: Bench) -> None:
    """It is a grave step: nothing is sent by one tap, and what was typed is still there."""
    asked = send(saw, 3, outcome="defect", made="2", rest="9oo", note="scratch")
    assert asked.status_code == 422
    assert '<details class="trouble" open>' in asked.text
    assert {"rest-fault", "final-fault"} <= set(re.findall(r'id="([a-z]+-fault)"', asked.text))
    assert '<option value="2" selected>' in asked.text
    assert 'name="note" value="scratch"' in asked.text
    assert saw.state(3) == "open"
    all_made = send(saw, 3, outcome="defect", made="4", final="1")
    assert (all_made.status_code, "When all are made, it is cut" in all_made.text) == (422, True)
    assert send(saw, 1, outcome="missing").status_code == 422
    assert [saw.state(bar) for bar in (1, 3)] == ["open", "open"]


def test_a_plan_that_goes_on_keeps_the_numbers_of_its_bars(saw: Bench) -> None:
    """The offcut was not found, so there is no bar 1 any more; bar 2 is the first, and none is before it."""
    send(saw, 1, outcome="missing", final="1")
    send(saw, 3, outcome="cut")
    saw.site.post(f"/v1/plans/{saw.plan}/replan")
    saw.site.make_plans()
    new = Bench(saw.site, saw.site.release())
    numbers = [one["number"] for one in saw.site.client.get(f"/v1/plans/{new.plan}/bars").json()]
    assert 1 not in numbers
    for place, number in enumerate(numbers, start=1):
        page = get(new, new.path(number))
        assert f"Bar {number} <small>{place} of {len(numbers)}</small>" in page
    assert 'rel="prev"' not in get(new, new.path(numbers[0]))
    assert 'rel="next"' not in get(new, new.path(numbers[-1]))
    assert new.state(3) == "cut"
    assert "Go on with bar 2" in get(new, new.path())


def test_another_report_on_a_reported_bar_is_refused_in_words(saw: Bench) -> None:
    """Two tablets: the second hears what was reported and by whom; a script gets problem details."""
    send(saw, 3, outcome="cut")
    other = send(saw, 3, outcome="defect", made="0", final="1")
    assert other.status_code == 409
    refused = send(saw, 3, "application/json", outcome="defect", made="0", final="1")
    assert refused.json()["detail"] == "Bar 3 is reported as cut already, by this machine."


def test_a_tail_longer_than_the_bar_is_refused(saw: Bench) -> None:
    """Even when somebody is sure of it."""
    sent = send(saw, 3, outcome="cut", tail="3000", unit="mm", sure="1")
    assert (sent.status_code, "cannot leave a tail of 3000 mm" in sent.text) == (422, True)
    assert saw.state(3) == "open"


def test_all_open_sheets_are_one_page(saw: Bench) -> None:
    """What is reported is not among them; each form has a key of its own."""
    send(saw, 3, outcome="cut")
    page = get(saw, f"{saw.path()}/sheets")
    assert re.findall(r'<article class="bench" id="bar-(\d)"', page) == ["1", "2", "4", "5"]
    keys = re.findall(r'name="key" value="(\w+)"', page)
    assert len(keys) == len(set(keys)) == 4 * 3


def test_a_plan_that_is_not_released_has_nothing_to_cut(site: Site) -> None:
    """The page says what is missing instead of showing bars nobody may cut."""
    answer = site.client.get(f"/plans/{site.plan}/saw", headers=HTML)
    assert (answer.status_code, "once it is released" in answer.text) == (409, True)


def test_bars_that_are_not_there(saw: Bench) -> None:
    """Neither page nor report of a sixth bar."""
    assert saw.site.client.get(saw.path(6), headers=HTML).status_code == 404
    assert send(saw, 6, outcome="cut").status_code == 404


def test_after_the_last_bar_nothing_is_left(saw: Bench) -> None:
    """The list and the last bar say so."""
    for bar in range(1, BARS + 1):
        assert send(saw, bar, outcome="cut").status_code == 303
    assert "No bar is left to cut" in get(saw, saw.path())
    assert "No bar is left to cut" in get(saw, saw.path(BARS))


def test_the_worker_may_stand_in_for_all_plans(saw: Bench) -> None:
    """Its script lies at the root, and browsers ask each time whether it has changed."""
    answer = saw.site.client.get("/saw-worker.js")
    assert (answer.headers["Content-Type"].partition(";")[0], answer.headers["Cache-Control"]) == (
        "text/javascript",
        "no-cache",
    )


def take_back(saw: Bench, bar: int, **fields: str) -> Response:
    """Send the form that takes a report back."""
    return saw.site.client.post(f"{saw.path(bar)}/withdraw", data=fields, headers=HTML)


def test_a_report_by_mistake_is_taken_back_and_the_bar_says_so(saw: Bench) -> None:
    """A tail of 1879 typed as 1789: to cut again, with who took it back and why; its tag stays its own."""
    assert "reported by mistake" not in get(saw, saw.path(2))
    send(saw, 2, outcome="cut", tail="1789", unit="mm", sure="1")
    page = get(saw, saw.path(2))
    assert ("That was reported by mistake" in page, "leave its tag on it" in page) == (True, True)
    sent = take_back(saw, 2, reason="tail is 1879", key="b1")
    assert (sent.status_code, sent.headers["location"]) == (303, saw.path(2))
    assert take_back(saw, 2, reason="tail is 1879", key="b1").status_code == 303
    page = get(saw, saw.path(2))
    assert ('data-open="yes"' in page, "OPEN AGAIN" in page, "“tail is 1879”" in page) == (True, True, True)
    assert 'data-number="2" data-state="open"' in get(saw, saw.path())
    send(saw, 2, outcome="cut", tail="1879", unit="mm")
    assert saw.bar(2)["born"] == "P1-2"


def test_taking_back_needs_a_reason(saw: Bench) -> None:
    """Said beside its field; nothing is done."""
    send(saw, 2, outcome="cut")
    for reason in ("", "   "):
        answer = take_back(saw, 2, reason=reason)
        assert (answer.status_code, "Say why, in a few words" in answer.text) == (422, True)
        assert 'id="reason-2-fault"' in answer.text
    assert saw.state(2) == "cut"


def test_what_stands_in_the_way_of_taking_back_is_said_on_the_page(saw: Bench) -> None:
    """The tail was scrapped meanwhile; and of a bar that is open nothing can be taken back."""
    send(saw, 2, outcome="cut")
    tag = saw.site.client.get("/v1/offcuts/P1-2").headers["ETag"]
    body = {"reason": "bent"}
    saw.site.client.post("/v1/offcuts/P1-2/scrap", json=body, headers={"If-Match": tag})
    answer = take_back(saw, 2, reason="wrong bar")
    assert (answer.status_code, "NOT TAKEN BACK" in answer.text) == (409, True)
    assert "P1-2 is scrapped" in answer.text
    answer = take_back(saw, 3, reason="wrong bar")
    assert (answer.status_code, "Nothing is reported of bar 3" in answer.text) == (409, True)
