"""From a proposed plan to its last bar: what is reserved, cut, born, and what is said of conflicts."""

import json

from nesting.exchange import read_plan
from tests.api.problems import problem
from tests.api.service import Running, pieces_request
from tests.api.shelving import add_offcut, add_shelf, balance, offcut, shelf


def release(service: Running, plan: str) -> dict[str, object]:
    answer = service.client.post(f"/v1/plans/{plan}/release")
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def report(service: Running, plan: str, bar: int, **body: object) -> dict[str, object]:
    answer = service.client.post(f"/v1/plans/{plan}/bars/{bar}/report", json={"outcome": "cut", **body})
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def test_release_reserves_offcuts_and_bars(either: Running) -> None:
    """A released plan has its tags and bars, and nobody else can have them."""
    shelf_id = add_shelf(either, 2500, on_hand=3)
    add_offcut(either, "FL-1", 1300)
    # 1300: 610 + 3 + 610 = 1223; the other four fit one bar: 8 + 4 x 610 + 3 x 3 + 8 = 2465.
    plan = either.proposed(pieces_request({610: 6}, bars=()))
    assert release(either, plan)["state"] == "released"
    assert (offcut(either, "FL-1")["state"], offcut(either, "FL-1")["plan"]) == ("reserved", plan)
    stands = shelf(either, shelf_id)
    assert (stands["free"], stands["reserved"]) == (2, 1)
    assert stands["holds"] == [{"plan": plan, "bars": 1}]


def test_of_equal_offcuts_the_oldest_is_cut(either: Running) -> None:
    """What has lain longest leaves first, whatever its tag; the plan says how old each one is."""
    add_shelf(either, 2500)
    days = {"FL-1": "2026-02-01", "FL-2": "2024-05-02", "FL-3": "2025-08-01"}
    for tag, day in days.items():
        add_offcut(either, tag, 640, born=day)
    plan = either.proposed(pieces_request({600: 1}, bars=()))
    made = either.client.get(f"/v1/plans/{plan}/result").json()
    sources = [bar["source"] for group in made["groups"] for bar in group["bars"]]
    assert sources == ["FL-2"]
    assert {one["tag"]: one["born"] for one in made["request"]["offcuts"]} == days
    assert read_plan(json.dumps(made)).request.offcuts[1].born == "2024-05-02"
    release(either, plan)
    assert [offcut(either, tag)["state"] for tag in days] == ["free", "reserved", "free"]


def test_an_offcut_of_today_is_younger_than_one_of_yesterday(service: Running) -> None:
    """One that is put on the rack without a day is of today; equal ones of one day go by their tags."""
    add_shelf(service, 2500)
    add_offcut(service, "FL-1", 640)
    add_offcut(service, "FL-2", 640, born="2026-01-05")
    plan = service.proposed(pieces_request({600: 1}, bars=()))
    release(service, plan)
    assert offcut(service, "FL-2")["plan"] == plan


def test_a_conflict_names_who_has_it(either: Running) -> None:
    """The second of two plans for one offcut hears which plan has it, and reserves nothing."""
    shelf_id = add_shelf(either, 2500, on_hand=1)
    add_offcut(either, "FL-1", 1300)
    first, second = (either.proposed(pieces_request({610: 6}, bars=(), job=job)) for job in ("OY", "WK"))
    release(either, first)
    refused = either.client.post(f"/v1/plans/{second}/release")
    assert problem(refused, 409) == "stock-conflict"
    assert refused.json()["conflicts"] == [
        {"thing": "FL-1", "state": "reserved", "plan": first, "holder": "this machine"}
    ]
    number = either.plan(first)["number"]
    detail = f"1 thing(s) the plan needs are not there; FL-1 is reserved by plan P{number}."
    assert refused.json()["detail"] == detail
    assert either.plan(second)["state"] == "proposed"
    assert shelf(either, shelf_id)["holds"] == [{"plan": first, "bars": 1}]


def test_bars_run_out_where_no_more_can_be_bought(either: Running) -> None:
    """Two plans for the last bars of a length that cannot be ordered: one gets them."""
    add_shelf(either, 2500, on_hand=1, orderable=False)
    first, second = (either.proposed(pieces_request({610: 4}, bars=(), job=job)) for job in ("OY", "WK"))
    release(either, first)
    refused = either.client.post(f"/v1/plans/{second}/release")
    assert problem(refused, 409) == "stock-conflict"
    assert refused.json()["conflicts"][0]["plan"] == first


def test_a_measured_tail_becomes_an_offcut_in_the_same_moment(either: Running) -> None:
    """Bar cut, tail on the rack with its tag, and every millimetre accounted for."""
    add_shelf(either, 2500, on_hand=1)
    plan = either.proposed(pieces_request({610: 2}, bars=()))
    release(either, plan)
    # 2500 - 8 - 1220 - 3 = 1269 rest, one more stroke: tail 1266; the tape says 1267.
    done = report(either, plan, 1, tail_nm=1_267_000_000, place="B, shelf 3")
    assert done["born"] == "P1-1"
    born = offcut(either, "P1-1")
    assert (born["state"], born["length"]["nm"], born["place"]) == ("free", 1_267_000_000, "B, shelf 3")
    assert (born["born_plan"], born["born_bar"], born["right"]) == (plan, 1, "raw")
    sums = balance(either)
    wanted = {"outside": -2500, "store": 1267, "good": 1220, "kerf": 6, "trim": 8, "measure": -1}
    assert {name: value for name, value in sums.items() if value} == wanted
    assert either.plan(plan)["state"] == "finished"


def test_reporting_the_same_twice_changes_nothing(either: Running) -> None:
    """A lost answer is asked for again; a different report for the same bar is refused."""
    add_shelf(either, 2500, on_hand=2)
    plan = either.proposed(pieces_request({610: 8}, bars=()))
    release(either, plan)
    assert report(either, plan, 1) == report(either, plan, 1)
    other = either.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "defect"})
    assert problem(other, 409) == "bar-reported"
    assert balance(either)["good"] == 2440
    assert either.plan(plan)["state"] == "in cutting"


def test_spoiled_pieces_are_scrap_and_come_back_as_demand(either: Running) -> None:
    """A mis-cut piece is made again from what there is; ordered = done + planned, always."""
    add_shelf(either, 2500, on_hand=1)
    plan = either.proposed(pieces_request({610: 4}, bars=()))
    release(either, plan)
    spoiled = either.client.get(f"/v1/plans/{plan}/bars").json()[0]["cuts"][1]["piece"]
    assert report(either, plan, 1, spoiled=[spoiled])["open_pieces"] == [spoiled]
    assert either.plan(plan)["state"] == "in cutting"
    again = either.client.post(f"/v1/plans/{plan}/replan")
    assert again.status_code == 202, again.text
    either.make_plans()
    made = either.plan(again.json()["id"])
    summary = made["summary"]
    assert (made["parent"], summary["pieces"], summary["pieces_done"]) == (plan, 4, 3)
    assert either.plan(plan)["state"] == "finished"
    job = either.client.get("/v1/jobs?name=OY").json()[0]
    # Three good ones are done; the fourth is only proposed again.
    assert (job["done"], job["pieces"]) == (3, 3)
    release(either, made["id"])
    report(either, made["id"], 2)
    job = either.client.get("/v1/jobs?name=OY").json()[0]
    assert (job["done"], job["pieces"], job["status"]) == (4, 4, "finished")
    assert balance(either)["good"] == 2440


def test_an_offcut_that_is_not_found_is_lost_and_its_pieces_planned_again(either: Running) -> None:
    """The rack's books say lost, and the plan's open pieces go into a new plan from bars."""
    add_shelf(either, 2500, on_hand=1)
    add_offcut(either, "FL-1", 1300)
    plan = either.proposed(pieces_request({610: 2}, bars=()))
    release(either, plan)
    bar = report(either, plan, 1, outcome="missing", note="not in B3")
    assert len(list(bar["open_pieces"])) == 2  # type: ignore[call-overload]
    assert offcut(either, "FL-1")["state"] == "lost"
    again = either.client.post(f"/v1/plans/{plan}/replan").json()
    either.make_plans()
    made = either.plan(again["id"])
    assert (made["summary"]["offcuts_used"], made["summary"]["pieces"]) == (0, 2)
    assert balance(either)["lost"] == 1300


def test_a_defect_sets_the_bar_aside_uncut(either: Running) -> None:
    """A dented bar is quarantined, not scrapped, and its pieces are open."""
    shelf_id = add_shelf(either, 2500, on_hand=2)
    plan = either.proposed(pieces_request({610: 4}, bars=()))
    release(either, plan)
    report(either, plan, 1, outcome="defect", note="dent")
    stands = shelf(either, shelf_id)
    assert (stands["free"], stands["reserved"], stands["quarantined"]) == (1, 0, 1)
    assert balance(either)["store"] == 5000


def test_withdrawing_frees_everything(either: Running) -> None:
    """What a plan gives up is there for the next one at once."""
    shelf_id = add_shelf(either, 2500, on_hand=1)
    add_offcut(either, "FL-1", 1300)
    plan = either.proposed(pieces_request({610: 6}, bars=()))
    release(either, plan)
    assert either.client.post(f"/v1/plans/{plan}/withdraw").json()["state"] == "withdrawn"
    assert offcut(either, "FL-1")["state"] == "free"
    assert (shelf(either, shelf_id)["free"], shelf(either, shelf_id)["holds"]) == (1, [])
    other = either.proposed(pieces_request({610: 6}, bars=(), job="WK"))
    assert release(either, other)["state"] == "released"


def test_bars_to_be_ordered_arrive_with_their_cut(either: Running) -> None:
    """A plan may be released before its bars have come; cutting one says that it has."""
    plan = either.proposed(pieces_request({610: 4}))
    release(either, plan)
    assert either.client.get("/v1/stock").json()[0]["free"] == 0
    report(either, plan, 1)
    # 2500 = 8 + 2440 + 4 strokes of 3 + 40 scrap.
    sums = {name: value for name, value in balance(either).items() if value}
    assert sums == {"outside": -2500, "good": 2440, "kerf": 12, "trim": 8, "scrap": 40}


def test_an_offcut_measured_anew_since_planning_is_a_conflict(either: Running) -> None:
    """A plan counts on a length; when the tape has said otherwise meanwhile, it may not be released."""
    add_offcut(either, "FL-1", 1300)
    plan = either.proposed(pieces_request({610: 2}))
    tag = either.client.get("/v1/offcuts/FL-1").headers["ETag"]
    changed = either.client.patch(
        "/v1/offcuts/FL-1", json={"length": "1298 mm", "reason": "tape"}, headers={"If-Match": tag}
    )
    assert changed.status_code == 200, changed.text
    refused = either.client.post(f"/v1/plans/{plan}/release")
    assert refused.json()["conflicts"][0]["state"] == "corrected since the plan was made"


def test_only_a_proposed_plan_is_released_and_repetition_is_safe(either: Running) -> None:
    """Releasing twice would reserve twice; the same request again answers as before."""
    plan = either.proposed(pieces_request({610: 1}))
    headers = {"Idempotency-Key": "release-1"}
    first = either.client.post(f"/v1/plans/{plan}/release", headers=headers)
    again = either.client.post(f"/v1/plans/{plan}/release", headers=headers)
    assert first.json() == again.json()
    assert problem(either.client.post(f"/v1/plans/{plan}/release"), 409) == "wrong-state"


def test_a_report_the_bar_contradicts_is_refused(either: Running) -> None:
    """A tail longer than the bar, or a piece from another one: somebody looks at the wrong bar."""
    plan = either.proposed(pieces_request({610: 1}))
    release(either, plan)
    path = f"/v1/plans/{plan}/bars/1/report"
    long = either.client.post(path, json={"outcome": "cut", "tail": "2600 mm"})
    assert problem(long, 422) == "report-not-possible"
    other = either.client.post(path, json={"outcome": "cut", "spoiled": ["X-1"]})
    assert problem(other, 422) == "report-not-possible"
    assert either.client.get("/v1/offcuts").json() == []
