"""One job and all jobs as rows of words."""

from __future__ import annotations

import json

from sqlalchemy import select

from api.jobs.schemas import JobStatus
from api.pages.jobs.list_view import JobLine, list_jobs
from api.pages.jobs.view import JobView, share_words, show_job, status_words
from api.store.models import JobRow
from nesting.reports.lengths import BothUnits
from tests.api.service import pieces_request
from tests.pages.live import Site

YARD, KIOSK = "Orrelbeck Yard", "Wendlecombe Kiosk"


def job(site: Site, name: str = YARD, **only: str) -> JobView:
    with site.store.read() as session:
        row = session.execute(select(JobRow).where(JobRow.name == name)).scalar_one()
        return show_job(session, site.store, row, BothUnits(), **only)


def jobs(site: Site, name: str = "") -> dict[str, JobLine]:
    with site.store.read() as session:
        return {line.name: line for line in list_jobs(session, BothUnits(), name=name).lines}


def report(site: Site, plan: str, bar: int, **more: object) -> None:
    site.post(f"/v1/plans/{plan}/bars/{bar}/report", {"outcome": "cut", **more})


def test_every_unit_says_after_which_bar_it_is_complete(site: Site) -> None:
    """48 flats on six floors; before the release that is said with its condition."""
    view = job(site)
    assert [floor.name for floor in view.floors] == ["1", "2", "3", "4", "5", "6"]
    units = [unit for floor in view.floors for unit in floor.units]
    assert len(units) == 48
    assert all(unit.said == f"after bar {unit.bar}, once released" for unit in units)
    assert view.status == "proposed, not released"
    site.release()
    assert all(unit.said == f"after bar {unit.bar}" for floor in job(site).floors for unit in floor.units)


def test_the_bar_named_is_the_last_that_holds_a_piece_of_the_unit(site: Site) -> None:
    """Checked against the bars as the service answers them, for unit 305."""
    plan = site.release()
    bars = site.client.get(f"/v1/plans/{plan}/bars", params={"limit": 500}).json()
    last = max(bar["number"] for bar in bars for cut in bar["cuts"] if cut["piece"].startswith("OY-305-"))
    units = {unit.unit: unit for floor in job(site).floors for unit in floor.units}
    assert units["305"].bar == last


def test_progress_counts_what_is_cut_and_what_must_be_made_again(site: Site) -> None:
    """Bar 1 is cut with one piece spoiled: its other pieces are done, that one is missing."""
    plan = site.release()
    cuts = site.client.get(f"/v1/plans/{plan}/bars/1").json()["cuts"]
    pieces = [cut["piece"] for cut in cuts if cut["job"] == YARD]
    report(site, plan, 1, spoiled=pieces[:1])
    view = job(site)
    assert [one.piece for one in view.missing] == pieces[:1]
    assert view.missing[0].said == "to be made again, it came out wrong"
    assert sum(unit.cut for floor in view.floors for unit in floor.units) == len(pieces) - 1
    assert f"{len(pieces) - 1} of" in view.said[0]
    assert "1\N{NO-BREAK SPACE}piece is missing." in view.said


def test_one_floor_and_one_unit_can_be_looked_at(site: Site) -> None:
    """The floors to choose from stay; the unit shows its pieces with bar and state."""
    view = job(site, floor="3", unit="305")
    assert [floor.name for floor in view.floors] == ["3"]
    assert len(view.all_floors) == 6
    assert view.pieces
    assert {one.unit for one in view.pieces} == {"305"}
    assert all(one.where.startswith("305 / ") for one in view.pieces)


def test_two_buildings_with_the_same_units_are_two(site: Site) -> None:
    """Floor 1 of one is not floor 1 of the other, nor is unit 101."""
    body = json.loads(pieces_request({1800: 1, 1700: 1, 900: 1}, job="Weir Court"))
    for line, (building, unit) in zip(
        body["piece_lines"], (("North", "101"), ("South", "101"), ("", "")), strict=True
    ):
        line["place"] = {"building": building, "floor": "1" if unit else "", "unit": unit}
    site.client.post("/v1/plans", json=body)
    site.make_plans()
    view = job(site, "Weir Court")
    assert [floor.title for floor in view.floors] == [
        "No building, no floor named",
        "North, floor 1",
        "South, floor 1",
    ]
    assert [floor.said for floor in view.floors[1:]] == [
        "0 of 1\N{NO-BREAK SPACE}unit complete, 0 of 1\N{NO-BREAK SPACE}piece cut"
    ] * 2
    one = job(site, "Weir Court", building="South", floor="1", unit="101")
    assert [floor.name for floor in one.floors] == ["South, 1"]
    assert [piece.where for piece in one.pieces] == ["South / 101"]
    assert [floor.name for floor in one.all_floors] == ["no building, no floor", "North, 1", "South, 1"]


def test_cost_is_shared_to_the_last_cent(site: Site) -> None:
    """The shares of the two jobs of the demo's plan make a whole, in money and in metal."""
    site.release()
    parts = [job(site, name).parts[0] for name in (YARD, KIOSK)]
    assert round(sum(float(part.cost_share.split()[0]) for part in parts), 1) == 100.0
    assert round(sum(float(part.metal_share.split()[0]) for part in parts), 1) == 100.0
    assert job(site).cost == parts[0].cost
    listed = jobs(site)
    assert listed[YARD].cost == parts[0].cost
    assert listed[YARD].cost_share == parts[0].cost_share


def test_the_list_tells_how_each_job_stands(site: Site) -> None:
    """Before the release nothing is promised; afterwards pieces and cost count."""
    assert jobs(site)[YARD].pieces == 0
    assert jobs(site)[YARD].proposed > 300
    plan = site.release()
    report(site, plan, 1)
    line = jobs(site)[YARD]
    assert (line.status, line.cut > 0, line.plans) == ("in cutting", True, ((plan, "P1"),))
    assert list(jobs(site, "kiosk")) == [KIOSK]


def test_lines_nobody_has_planned_are_listed(site: Site) -> None:
    """Collected for a job, they wait until somebody plans them."""
    body = json.loads(pieces_request({904: 3}, job="Late wing"))
    del body["stock"]
    site.post("/v1/jobs", body)
    view = job(site, "Late wing")
    assert [(line.id, line.quantity) for line in view.waiting] == [("L904", 3)]
    assert view.said == ("1\N{NO-BREAK SPACE}line is in no plan yet.",)
    assert (view.status, jobs(site)["Late wing"].waiting) == ("not all planned", 1)


def test_waiting_lines_of_two_buildings_name_them(site: Site) -> None:
    """Floor 1, unit 101 is listed twice, and both would look like one line copied."""
    body = json.loads(pieces_request({904: 3, 905: 1}, job="Weir Court"))
    del body["stock"]
    for line, building in zip(body["piece_lines"], ("North", "South"), strict=True):
        line["place"] = {"building": building, "floor": "1", "unit": "101"}
    site.post("/v1/jobs", body)
    view = job(site, "Weir Court")
    assert sorted((line.building, line.floor, line.unit) for line in view.waiting) == [
        ("North", "1", "101"),
        ("South", "1", "101"),
    ]
    page = site.client.get(f"/jobs/{view.id}", headers={"Accept": "text/html"}).text
    assert "<td>North</td><td>1</td><td>101</td>" in page


def test_a_plan_planned_again_hands_its_pieces_on_once(site: Site) -> None:
    """Two plans, one job: what the first cut and what the second will cut is all there ever was."""
    sent = site.client.post(
        "/v1/plans",
        content=pieces_request({1800: 3}, job="Gate house"),
        headers={"Content-Type": "application/json"},
    )
    plan = str(sent.json()["id"])
    site.make_plans()
    site.release(plan)
    report(site, plan, 1)
    site.post(f"/v1/plans/{plan}/replan")
    site.make_plans()
    view = job(site, "Gate house")
    (unit,) = view.floors[0].units
    assert (unit.pieces, unit.cut, unit.to_come, unit.missing) == (3, 1, 2, 0)
    assert unit.said.endswith("of plan P3, once released")
    assert [part.number for part in view.parts] == [3, 2]


def test_a_job_without_prices_says_no_cost(site: Site) -> None:
    """0.00 would look free."""
    sent = site.client.post(
        "/v1/plans",
        content=pieces_request({1800: 1}, job="Gate house"),
        headers={"Content-Type": "application/json"},
    )
    site.make_plans()
    site.release(str(sent.json()["id"]))
    part = job(site, "Gate house").parts[0]
    assert (part.cost, part.cost_share) == ("", "")


def test_a_job_in_part_without_prices_takes_no_share_of_the_others(site: Site) -> None:
    """What the priced half of its plan costs is no cost of the job, and none of what all jobs cost."""
    site.release()
    before = jobs(site)[YARD].cost_share
    body = json.loads(pieces_request({1800: 1}, job="Gate house"))
    body["currency"] = site.client.get("/v1/plans").json()[0]["summary"]["currency"]
    body["stock"].append({**body["stock"][0], "finish": "raw"})
    body["stock"][0]["price"] = "18.60"
    body["piece_lines"].append({**body["piece_lines"][0], "id": "raw", "finish": "raw"})
    sent = site.client.post("/v1/plans", json=body)
    site.make_plans()
    site.release(str(sent.json()["id"]))
    listed = jobs(site)
    assert (listed["Gate house"].pieces, listed["Gate house"].cost) == (2, "")
    assert listed[YARD].cost_share == before


def test_words_for_states_and_shares() -> None:
    """A state that is no sentence of its own is said as it is."""
    assert status_words(JobStatus.IN_CUTTING) == "in cutting"
    assert status_words(JobStatus.EMPTY) == "nothing planned"
    assert share_words(1, 3) == "33.3 %"
    assert share_words(1, 0) == ""
