"""The plan's pages over HTTP: what they hold in each state, and what they refuse."""

import json

import pytest
from httpx2 import Response

from api.pages.plan.files import FileKind
from api.worker import queue
from nesting.units import mm
from tests.api.service import FAMILY, FINISH, TERMS, Running, pieces_request
from tests.api.shelving import add_offcut, add_shelf, offcut

LIKE_A_BROWSER = {"Accept": "text/html,application/xhtml+xml"}


def look(service: Running, path: str) -> Response:
    return service.client.get(path, headers=LIKE_A_BROWSER, follow_redirects=False)


def send(service: Running, path: str, **fields: str) -> Response:
    return service.client.post(path, data=fields, headers=LIKE_A_BROWSER, follow_redirects=False)


def words(answer: Response) -> str:
    """Give a page with plain blanks where it must not break."""
    return answer.text.replace("\u00a0", " ")


def proposed(service: Running, job: str = "OY") -> str:
    add_shelf(service, 2500)
    return service.proposed(pieces_request({610: 6, 905: 3}, job=job))


def test_the_answer_comes_first(service: Running) -> None:
    """The sentence of what to order stands before any figure and any bar."""
    text = look(service, f"/plans/{proposed(service)}").text
    # 6 x 610 and 3 x 905 from 2500: 4 x 610 + strokes = 2449; 2 x 905 + 610 = 2426; the rest is a third.
    order = ["Order 3 bars of 2500 mm TOLV-17N natural channel."]
    order += [f'id="{section}"' for section in ("money", "metal", "how-good", "bars", "card-1", "rests-on")]
    places = [text.index(one) for one in order]
    assert places == sorted(places)


def test_no_script_is_needed(service: Running) -> None:
    """A plan that is made shows everything without a line of JavaScript."""
    plan = proposed(service)
    for path in ("", "/runs", "/compare"):
        assert "<script" not in look(service, f"/plans/{plan}{path}").text


def test_an_unknown_plan_is_a_page(service: Running) -> None:
    """A stale link does not answer with JSON."""
    answer = look(service, f"/plans/{'0' * 32}")
    assert answer.status_code == 404
    assert answer.headers["Content-Type"].startswith("text/html")


def test_a_waiting_plan_shows_no_answer(service: Running) -> None:
    """Before there is a plan there is its progress, and nothing to release or compare."""
    sent = service.send(pieces_request({610: 6}))
    text = look(service, f"/plans/{sent.json()['id']}").text
    assert "Stop and keep the best" in text
    assert "Release to the shop" not in text
    assert look(service, f"/plans/{sent.json()['id']}/compare").status_code == 409


def test_a_plan_that_failed_says_why_and_who_gave_it_up(service: Running) -> None:
    """Whoever waits for it must not look at a bare word and guess which machine to look at."""
    plan = service.send(pieces_request({610: 6})).json()["id"]
    claim = queue.claim(service.store, "saw-room-7", TERMS)
    assert claim is not None
    assert queue.fail(service.store, "saw-room-7", plan, claim.attempt, "The blade has no width.")
    text = look(service, f"/plans/{plan}").text
    assert "The blade has no width." in text
    assert "Given up by worker saw-room-7," in text


def test_a_withdrawn_plan_says_why_and_by_whom(service: Running) -> None:
    """A reason sent over HTTP is on the page like one that was typed there."""
    plan = proposed(service)
    service.client.post(f"/v1/plans/{plan}/withdraw", json={"reason": "drawing B changed"})
    text = look(service, f"/plans/{plan}").text
    assert "Withdrawn by this machine," in text
    assert "<q>drawing B changed</q>" in text


def test_releasing_twice_is_releasing_once(service: Running) -> None:
    """A button pressed twice is not an error."""
    plan = proposed(service)
    for _ in range(2):
        answer = send(service, f"/plans/{plan}/release")
        assert (answer.status_code, answer.headers["Location"]) == (303, f"/plans/{plan}")
    assert service.plan(plan)["state"] == "released"


def test_a_refused_release_names_the_holder(service: Running) -> None:
    """Which thing, for which plan, of whom; and nothing was reserved."""
    add_shelf(service, 2500, on_hand=5)
    add_offcut(service, "FL-1", 1300)
    first, second = (service.proposed(pieces_request({610: 6}, bars=(), job=job)) for job in ("OY", "WK"))
    send(service, f"/plans/{first}/release")
    answer = send(service, f"/plans/{second}/release")
    assert answer.status_code == 409
    text = answer.text
    assert "The plan is not released" in text
    row = text[text.index("FL-1</th>") :][:200]
    assert f'<a href="/plans/{first}">plan P1</a>' in row
    assert "this machine" in row
    assert service.plan(second)["state"] == "proposed"


def test_planning_again_after_a_conflict_goes_around_it(service: Running) -> None:
    """The new plan follows the old one, which is withdrawn; pressed twice it is still one plan."""
    add_shelf(service, 2500, on_hand=5)
    add_offcut(service, "FL-1", 1300)
    first, second = (service.proposed(pieces_request({610: 6}, bars=(), job=job)) for job in ("OY", "WK"))
    send(service, f"/plans/{first}/release")
    made = [send(service, f"/plans/{second}/replan", reason="FL-1 is taken") for _ in range(2)]
    assert {one.status_code for one in made} == {303}
    assert made[0].headers["Location"] == made[1].headers["Location"]
    service.make_plans()
    new = made[0].headers["Location"].rpartition("/")[2]
    assert service.plan(new)["parent"] == second
    send(service, f"/plans/{new}/release")
    assert offcut(service, "FL-1")["plan"] == first
    old = look(service, f"/plans/{second}").text
    assert "FL-1 is taken" in old
    assert f"/plans/{new}" in old


@pytest.mark.parametrize("act", ["withdraw", "replan"])
def test_a_plan_at_the_saw_is_taken_away_with_a_reason(service: Running, act: str) -> None:
    """Without one the same page says so at the field, and nothing has happened."""
    plan = proposed(service)
    send(service, f"/plans/{plan}/release")
    answer = send(service, f"/plans/{plan}/{act}", reason="  ")
    assert answer.status_code == 422
    assert f'aria-describedby="{act}-fault"' in answer.text
    assert service.plan(plan)["state"] == "released"
    assert send(service, f"/plans/{plan}/{act}", reason="sizes changed").status_code == 303
    assert service.plan(plan)["state"] == "withdrawn"
    assert "sizes changed" in look(service, f"/plans/{plan}").text


def test_withdrawing_what_was_never_released_needs_no_reason(service: Running) -> None:
    """Nobody waits for it."""
    plan = proposed(service)
    assert send(service, f"/plans/{plan}/withdraw").status_code == 303
    assert service.plan(plan)["state"] == "withdrawn"
    assert send(service, f"/plans/{plan}/withdraw").status_code == 303


def test_a_reason_is_shown_as_text(service: Running) -> None:
    """Nobody writes into other people's pages."""
    plan = proposed(service)
    send(service, f"/plans/{plan}/withdraw", reason="<script>alert(1)</script>")
    text = look(service, f"/plans/{plan}").text
    assert "<script>" not in text
    assert "&lt;script&gt;alert(1)" in text


@pytest.mark.parametrize("act", ["release", "withdraw", "replan"])
def test_the_address_of_a_form_leads_back(service: Running, act: str) -> None:
    """Changing the unit on a refused page asks for this address."""
    answer = look(service, f"/plans/{'0' * 32}/{act}")
    assert (answer.status_code, answer.headers["Location"]) == (303, f"/plans/{'0' * 32}")


@pytest.mark.parametrize("act", ["release", "withdraw", "replan", "compare"])
def test_another_site_cannot_act(service: Running, act: str) -> None:
    """A form elsewhere that posts here is refused."""
    plan = proposed(service)
    headers = {**LIKE_A_BROWSER, "Origin": "http://elsewhere.example", "Sec-Fetch-Site": "cross-site"}
    answer = service.client.post(f"/plans/{plan}/{act}", headers=headers, follow_redirects=False)
    assert answer.status_code == 403
    assert service.plan(plan)["state"] == "proposed"


@pytest.mark.parametrize("kind", ["workbook", "json", "drawing", "cut-sheets", "piece-labels"])
def test_files_can_be_taken_away(service: Running, kind: str) -> None:
    """Each comes under its own name; papers open in the browser, to be printed."""
    plan = proposed(service)
    answer = look(service, f"/plans/{plan}/files/{kind}")
    assert answer.status_code == 200
    how, _, name = answer.headers["Content-Disposition"].partition("; filename=")
    assert how == ("inline" if answer.content.startswith(b"%PDF") else "attachment")
    assert name.startswith('"plan-1')


def test_every_file_offered_can_be_fetched(service: Running) -> None:
    """No link leads to a paper that has nothing to say, and what is not linked has nothing to say."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 4}))  # 4 x 610 + 3 strokes + trim = 2457: no tail to keep
    text = look(service, f"/plans/{plan}").text
    for kind in FileKind:
        linked = f'href="/plans/{plan}/files/{kind.value}"' in text
        assert look(service, f"/plans/{plan}/files/{kind.value}").status_code == (200 if linked else 404), (
            kind
        )


def test_a_misspelt_filter_is_refused(service: Running) -> None:
    """What is not understood must not look like an answer."""
    assert look(service, f"/plans/{proposed(service)}?flor=3").status_code == 422


def test_a_reader_may_look_but_not_act(service: Running) -> None:
    """Without the scope to plan there are no buttons, and posting is refused."""
    from api.access.keys import Scope, make_key

    plan = proposed(service)
    with service.store.write() as session:
        key = make_key(session, "visitor", [Scope.READ], service.store.now(session)).text
    headers = {**LIKE_A_BROWSER, "Authorization": f"Bearer {key}"}
    text = service.client.get(f"/plans/{plan}", headers=headers).text
    assert "Release to the shop" not in text
    answer = service.client.post(f"/plans/{plan}/release", headers=headers, follow_redirects=False)
    assert answer.status_code == 403
    assert service.plan(plan)["state"] == "proposed"


def miscut(service: Running, plan: str) -> None:
    """Report bar 1 cut, its first piece too short to be good."""
    first = service.client.get(f"/v1/plans/{plan}/bars/1").json()["cuts"][0]["piece"]
    report = {"outcome": "cut", "miscuts": [{"piece": first, "length": "500 mm"}]}
    answer = service.client.post(f"/v1/plans/{plan}/bars/1/report", json=report)
    assert answer.status_code == 200, answer.text


def test_a_plan_goes_on_after_a_miscut(service: Running) -> None:
    """Bars that must not change are named; the new plan says what stands and what has changed."""
    plan = proposed(service)
    send(service, f"/plans/{plan}/release")
    miscut(service, plan)
    fields = {"reason": "cut short", "frozen": "2"}
    made = send(service, f"/plans/{plan}/replan", **fields).headers["Location"]
    service.make_plans()
    text = look(service, made).text
    assert "What has changed since plan P1" in text
    assert "9 pieces are ordered:" in text
    assert "came out wrong" in text
    assert "FROZEN" in text


@pytest.mark.parametrize("frozen", ["two", "99"])
def test_a_bar_that_cannot_be_kept_is_refused(service: Running, frozen: str) -> None:
    """What was typed comes back, and nothing has happened."""
    plan = proposed(service)
    send(service, f"/plans/{plan}/release")
    answer = send(service, f"/plans/{plan}/replan", reason="cut short", frozen=frozen)
    assert answer.status_code in (409, 422)
    assert "The plan is not planned again" in answer.text
    assert f'value="{frozen}"' in answer.text
    assert 'value="cut short"' in answer.text
    assert service.plan(plan)["state"] == "released"


def test_pieces_to_make_again_are_told_wherever_the_foreman_looks(service: Running) -> None:
    """Four pieces of a dented bar: on the plan, among its runs, on the list of jobs; then planned again."""
    plan = proposed(service)
    service.client.post(f"/v1/plans/{plan}/release")
    bars = service.client.get(f"/v1/plans/{plan}/bars").json()
    dented = next(bar for bar in bars if len(bar["cuts"]) == 4)
    path = f"/v1/plans/{plan}/bars/{dented['number']}/report"
    service.client.post(path, json={"outcome": "defect", "note": "dent"})
    page = words(look(service, f"/plans/{plan}"))
    assert "<strong>4 pieces to make again:</strong>" in page
    assert "0 of 3 bars cut, 2 to go, 1 set aside or not found." in page
    assert '<details id="plan-again" open>' in page
    runs = words(look(service, f"/plans/{plan}/runs"))
    assert "<strong>4 pieces to make again:</strong>" in runs
    assert "<strong>4 pieces to make again</strong></span></summary>" in runs
    assert runs.count("<strong>to make again:</strong>") == 4
    assert "4 pieces to make again: plan again" in words(look(service, "/jobs"))
    send(service, f"/plans/{plan}/replan", reason="dent")
    service.make_plans()
    for address in (f"/plans/{plan}", f"/plans/{plan}/runs", "/jobs"):
        assert "to make again" not in words(look(service, address))


def test_a_plan_that_was_planned_again_is_not_called_finished(service: Running) -> None:
    """One of three bars was cut: another plan has taken the place of this one, as every list says."""
    plan = proposed(service)
    service.client.post(f"/v1/plans/{plan}/release")
    service.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
    send(service, f"/plans/{plan}/replan", reason="rush job")
    service.make_plans()
    page = look(service, f"/plans/{plan}").text
    assert '<span class="state">replaced by P2</span>' in page
    assert "1 of 3 bars were cut." in page
    assert "Plan P2</a> has taken its place." in page
    for address in ("/", "/plans"):
        assert '<span class="tag">replaced by P2</span>' in look(service, address).text
    after = next(one["id"] for one in service.client.get("/v1/plans").json() if one["number"] == 2)
    send(service, f"/plans/{after}/withdraw", reason="not needed")
    assert "replaced by" not in look(service, f"/plans/{plan}").text + look(service, "/plans").text


def test_a_plan_that_failed_is_called_failed_everywhere(service: Running) -> None:
    """Planned again it has a follower, but there never was a plan whose place that could take."""
    plan = service.send(pieces_request({610: 6})).json()["id"]
    claim = queue.claim(service.store, "saw-room-7", TERMS)
    assert claim is not None
    assert queue.fail(service.store, "saw-room-7", plan, claim.attempt, "The blade has no width.")
    send(service, f"/plans/{plan}/replan", reason="another blade")
    service.make_plans()
    assert '<span class="state">failed</span>' in look(service, f"/plans/{plan}").text
    page = look(service, "/plans").text
    assert '<span class="tag">failed</span>' in page
    assert "replaced by" not in page


def test_offcuts_that_came_with_a_list_are_put_on_the_rack_from_the_refusal(service: Running) -> None:
    """The plan cuts R-1, which no rack here has: the page says so, and one button settles it."""
    tree = json.loads(pieces_request({610: 1}))
    material = {"family": FAMILY, "finish": FINISH, "part": "channel"}
    ends = {"left": "clean", "right": "clean"}
    tree["offcuts"] = [{"tag": "R-1", **material, **ends, "length_nm": int(mm(700))}]
    plan = service.proposed(json.dumps(tree))
    refused = send(service, f"/plans/{plan}/release")
    assert refused.status_code == 409
    assert "R-1 came with the list and lies on no rack here." in refused.text
    assert "Ask the holder" not in refused.text
    detail = service.client.post(f"/v1/plans/{plan}/release").json()["detail"]
    assert "What is not on this rack came with the list: put it there, then release." in detail
    assert send(service, f"/plans/{plan}/rack").headers["Location"] == f"/plans/{plan}"
    assert offcut(service, "R-1")["state"] == "free"
    assert send(service, f"/plans/{plan}/release").status_code == 303
    assert service.plan(plan)["state"] == "released"
