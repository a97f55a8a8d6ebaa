"""A report from the saw taken back: the bar as before, the metal in its place, or who stands in the way."""

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from benchmarks.service.invariants import broken
from tests.api.plans.test_life import release, report
from tests.api.plans.test_reporting import released
from tests.api.problems import problem
from tests.api.service import Running, pieces_request
from tests.api.shelving import act, add_offcut, add_shelf, balance, offcut, shelf

WHY = {"reason": "it was the bar beside it"}


def send(service: Running, plan: str, bar: int, **headers: str) -> Any:
    path = f"/v1/plans/{plan}/bars/{bar}/report/withdraw"
    return service.client.post(path, json=WHY, headers=headers)


def withdraw(service: Running, plan: str, bar: int) -> dict[str, Any]:
    answer = send(service, plan, bar)
    assert answer.status_code == 200, answer.text
    assert broken(service.store) == []
    return dict(answer.json())


def tailed(service: Running) -> str:
    """Give a released plan of one bar of 2500 mm with 2 x 610, whose tail of 1266 mm is kept."""
    add_shelf(service, 2500, on_hand=1)
    plan = service.proposed(pieces_request({610: 2}, bars=()))
    release(service, plan)
    return plan


def job_done(service: Running) -> int:
    job = service.client.get("/v1/jobs").json()[0]
    return int(service.client.get(f"/v1/jobs/{job['id']}").json()["done"])


def test_a_bar_stands_as_before_its_report(either: Running) -> None:
    """Bar, shelf, plan, job and metal are what they were; the ledger keeps both."""
    plan = tailed(either)
    shelf_id = str(either.client.get("/v1/stock").json()[0]["id"])
    before = either.client.get(f"/v1/plans/{plan}/bars/1").json()
    stood, sums, done = shelf(either, shelf_id), balance(either), job_done(either)
    report(either, plan, 1, tail="1230 mm", place="B")
    assert (either.plan(plan)["state"], job_done(either)) == ("finished", done + 2)
    assert withdraw(either, plan, 1) == before
    now = shelf(either, shelf_id)
    assert (now["free"], now["reserved"], now["holds"]) == (stood["free"], stood["reserved"], stood["holds"])
    assert (balance(either), job_done(either)) == (sums, done)
    assert either.plan(plan)["state"] == "released"
    assert offcut(either, "P1-1")["state"] == "withdrawn"
    events = either.client.get("/v1/events", params={"plan": plan}).json()
    kinds = [one["kind"] for one in events if one["bar"] == 1]
    assert sorted(kinds) == ["cut", "tail", "withdraw", "withdraw"]
    assert {one["reason"] for one in events if one["kind"] == "withdraw"} == {WHY["reason"]}


def test_a_bar_reported_again_gets_its_tag_again(either: Running) -> None:
    """The tag is on the tail already: it means the same tail, with the length that is right."""
    plan = tailed(either)
    report(either, plan, 1, tail="1230 mm")
    withdraw(either, plan, 1)
    assert report(either, plan, 1, tail="1266 mm", place="C")["born"] == "P1-1"
    born = offcut(either, "P1-1")
    assert (born["state"], born["length"]["nm"], born["place"]) == ("free", 1_266_000_000, "C")
    assert either.plan(plan)["state"] == "finished"
    assert broken(either.store) == []
    # 2500 = 8 + 1220 + 6 + 1266, once.
    sums = {name: value for name, value in balance(either).items() if value}
    assert sums == {"outside": -2500, "store": 1266, "good": 1220, "kerf": 6, "trim": 8}


def test_a_tag_taken_back_goes_to_nothing_else(service: Running) -> None:
    """Whoever brings an offcut under that tag is told that it has been used."""
    plan = tailed(service)
    report(service, plan, 1)
    withdraw(service, plan, 1)
    body = {"tag": "P1-1", "family": "TOLV-17N", "finish": "natural", "length": "900 mm"}
    assert problem(service.client.post("/v1/offcuts", json=body), 409) == "tag-used"


def test_other_bars_stay_reported(either: Running) -> None:
    """Of two bars reported one is taken back: the plan is in cutting, and its other bar is cut."""
    plan = released(either)
    report(either, plan, 1)
    report(either, plan, 2)
    assert either.plan(plan)["state"] == "finished"
    withdraw(either, plan, 2)
    assert either.plan(plan)["state"] == "in cutting"
    states = [one["state"] for one in either.client.get(f"/v1/plans/{plan}/bars").json()]
    assert states == ["cut", "open"]
    assert balance(either)["good"] == 2440


def test_the_wrong_miscut_is_whole_again(either: Running) -> None:
    """What came out of a piece is off the rack, short or not; that of the right one gets its tag."""
    plan = released(either)
    pieces = [cut["piece"] for cut in either.client.get(f"/v1/plans/{plan}/bars/1").json()["cuts"]]
    wrong = [{"piece": pieces[0], "length": "560 mm"}, {"piece": pieces[1], "length": "150 mm"}]
    said = report(either, plan, 1, miscuts=wrong)
    assert said["kept"] == {pieces[0]: "P1-1S1", pieces[1]: "P1-1S2"}
    assert withdraw(either, plan, 1)["open_pieces"] == []
    assert [offcut(either, f"P1-1S{n}")["state"] for n in (1, 2)] == ["withdrawn", "withdrawn"]
    assert report(either, plan, 1, miscuts=[{"piece": pieces[2], "length": "560 mm"}])["kept"] == {
        pieces[2]: "P1-1S1"
    }
    assert [offcut(either, f"P1-1S{n}")["state"] for n in (1, 2)] == ["free", "withdrawn"]
    assert broken(either.store) == []


@pytest.mark.parametrize("outcome", ["cut", "defect", "missing"])
def test_an_offcut_is_the_plans_again(service: Running, outcome: str) -> None:
    """Cut, set aside or not found by mistake: it is reserved as before, and a plan that is over is not."""
    add_shelf(service, 2500)
    add_offcut(service, "FL-1", 1300)
    plan = service.proposed(pieces_request({610: 2}, bars=()))
    release(service, plan)
    sums = balance(service)
    report(service, plan, 1, outcome=outcome)
    withdraw(service, plan, 1)
    assert (offcut(service, "FL-1")["state"], offcut(service, "FL-1")["plan"]) == ("reserved", plan)
    assert balance(service) == sums
    assert report(service, plan, 1)["state"] == "cut"


@pytest.mark.parametrize("outcome", ["cut", "defect", "missing"])
@pytest.mark.parametrize("on_hand", [0, 1])
def test_a_shelf_is_as_before(service: Running, outcome: str, on_hand: int) -> None:
    """A bar kept for the plan is kept again; one delivered for it has not come."""
    shelf_id = add_shelf(service, 2500, on_hand=on_hand)
    plan = service.proposed(pieces_request({610: 4}, bars=()))
    release(service, plan)
    stood, sums = shelf(service, shelf_id), balance(service)
    report(service, plan, 1, outcome=outcome)
    withdraw(service, plan, 1)
    now = shelf(service, shelf_id)
    for name in ("free", "reserved", "quarantined", "holds"):
        assert now[name] == stood[name]
    assert balance(service) == sums


def test_a_free_bar_is_free_again(service: Running) -> None:
    """One that came after the release was not kept for the plan before the report, nor is it afterwards."""
    shelf_id = add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 4}, bars=()))
    release(service, plan)
    act(service, f"/v1/stock/{shelf_id}/receive", {"bars": 2, "reason": "delivery"})
    report(service, plan, 1)
    withdraw(service, plan, 1)
    assert (shelf(service, shelf_id)["free"], shelf(service, shelf_id)["reserved"]) == (2, 0)


def test_nothing_reported_is_nothing_to_take_back(service: Running) -> None:
    """An open bar, and one whose report was taken back already, are refused in words."""
    plan = tailed(service)
    assert problem(send(service, plan, 1), 409) == "not-reported"
    report(service, plan, 1)
    withdraw(service, plan, 1)
    again = send(service, plan, 1)
    assert problem(again, 409) == "not-reported"
    assert again.json()["detail"] == "Nothing is reported of bar 1; it is open."
    assert problem(send(service, plan, 9), 404) == "not-found"


def test_a_reason_is_needed(service: Running) -> None:
    """Whoever looks into the ledger finds why; without one nothing is done."""
    plan = tailed(service)
    report(service, plan, 1)
    path = f"/v1/plans/{plan}/bars/1/report/withdraw"
    for body in ({}, {"reason": ""}, {"reason": "  "}, {"reason": "x" * 501}):
        assert service.client.post(path, json=body).status_code == 422
    assert service.client.get(f"/v1/plans/{plan}/bars/1").json()["state"] == "cut"


def test_a_tail_another_plan_has_stands_in_the_way(either: Running) -> None:
    """The refusal names the tail and the plan; once that plan gives it back, the report can be taken back."""
    plan = tailed(either)
    report(either, plan, 1)
    other = either.proposed(pieces_request({1250: 1}, bars=(), job="WK"))
    release(either, other)
    assert offcut(either, "P1-1")["plan"] == other
    refused = send(either, plan, 1)
    assert problem(refused, 409) == "stock-conflict"
    assert refused.json()["detail"] == "What was reported of bar 1 stands: P1-1 is reserved by plan P2."
    held = {"thing": "P1-1", "state": "reserved", "plan": other, "holder": "this machine"}
    assert refused.json()["conflicts"] == [held]
    assert either.plan(plan)["state"] == "finished"
    assert either.client.post(f"/v1/plans/{other}/withdraw").status_code == 200
    withdraw(either, plan, 1)


@pytest.mark.parametrize(
    ("name", "body", "state"),
    [
        ("count", {"length": "1266 mm", "reason": "stocktake"}, "counted since, by this machine"),
        ("scrap", {"reason": "bent"}, "scrapped"),
        ("quarantine", {"reason": "scratch"}, "quarantined"),
        ("lose", {"reason": "not there"}, "lost"),
    ],
)
def test_a_tail_somebody_had_in_hand_stands_in_the_way(
    service: Running, name: str, body: dict[str, str], state: str
) -> None:
    """What was seen or changed since is no mistake of the saw any more."""
    plan = tailed(service)
    report(service, plan, 1)
    assert act(service, f"/v1/offcuts/P1-1/{name}", body).status_code == 200
    refused = send(service, plan, 1)
    assert problem(refused, 409) == "stock-conflict"
    assert refused.json()["detail"] == f"What was reported of bar 1 stands: P1-1 is {state}."
    assert offcut(service, "P1-1")["state"] != "withdrawn"


def test_a_bar_set_aside_that_was_thrown_away_stands_in_the_way(service: Running) -> None:
    """There is none to give back to the plan, and nothing is half done."""
    shelf_id = add_shelf(service, 2500, on_hand=1)
    plan = service.proposed(pieces_request({610: 4}, bars=()))
    release(service, plan)
    report(service, plan, 1, outcome="defect")
    gone = act(service, f"/v1/stock/{shelf_id}/scrap", {"bars": 1, "reason": "bent"})
    assert gone.status_code == 200, gone.text
    assert problem(send(service, plan, 1), 409) == "stock-conflict"
    assert broken(service.store) == []


def test_a_plan_planned_again_keeps_its_reports(service: Running) -> None:
    """Its follower counts on them, under either plan; it is named. So it is with a plan withdrawn."""
    plan = released(service)
    pieces = service.client.get(f"/v1/plans/{plan}/bars/1").json()["cuts"]
    report(service, plan, 1, spoiled=[pieces[0]["piece"]])
    follower = service.client.post(f"/v1/plans/{plan}/replan").json()["id"]
    refused = send(service, plan, 1)
    assert problem(refused, 409) == "wrong-state"
    assert "P1 was planned again as P2" in refused.json()["detail"]
    service.make_plans()
    release(service, follower)
    refused = send(service, follower, 1)
    assert problem(refused, 409) == "wrong-state"
    assert "cut under an earlier plan" in refused.json()["detail"]
    report(service, follower, 2)
    assert service.client.post(f"/v1/plans/{follower}/withdraw").status_code == 200
    refused = send(service, follower, 2)
    assert problem(refused, 409) == "wrong-state"
    assert "P2 is withdrawn" in refused.json()["detail"]


def test_a_follower_with_nothing_of_its_own_reported_is_released_again(service: Running) -> None:
    """Bars that an earlier plan has cut do not keep it in cutting."""
    plan = released(service)
    pieces = service.client.get(f"/v1/plans/{plan}/bars/1").json()["cuts"]
    report(service, plan, 1, spoiled=[pieces[0]["piece"]])
    follower = service.client.post(f"/v1/plans/{plan}/replan").json()["id"]
    service.make_plans()
    release(service, follower)
    report(service, follower, 2)
    withdraw(service, follower, 2)
    assert service.plan(follower)["state"] == "released"


def test_taken_back_twice_under_its_key_is_once(either: Running) -> None:
    """A lost answer is asked for again; the report's own key, sent once more, does not report it again."""
    plan = tailed(either)
    path = f"/v1/plans/{plan}/bars/1/report"
    said = {"outcome": "cut"}
    either.client.post(path, json=said, headers={"Idempotency-Key": "report-1"})
    first = send(either, plan, 1, **{"Idempotency-Key": "back-1"})
    assert (first.status_code, send(either, plan, 1, **{"Idempotency-Key": "back-1"}).json()) == (
        200,
        first.json(),
    )
    late = either.client.post(path, json=said, headers={"Idempotency-Key": "report-1"})
    assert (late.status_code, late.json()["state"]) == (200, "open")
    assert balance(either)["good"] == 0


def test_of_many_at_once_exactly_one_takes_it_back(either: Running) -> None:
    """Six people tap at the same moment: one is answered, the others hear that nothing is reported."""
    plan = tailed(either)
    report(either, plan, 1)
    with ThreadPoolExecutor(6) as people:
        answers = list(people.map(lambda _: send(either, plan, 1), range(6)))
    assert sorted(one.status_code for one in answers) == [200, 409, 409, 409, 409, 409]
    assert broken(either.store) == []
    assert either.client.get(f"/v1/plans/{plan}/bars/1").json()["state"] == "open"
