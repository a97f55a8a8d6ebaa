"""Customer jobs across plans: collected, planned together or apart, each with its own account."""

from api.pages.jobs.read import waiting_lines
from tests.api.problems import problem
from tests.api.service import Running, pieces_request
from tests.api.shelving import add_shelf

JSON = {"Content-Type": "application/json"}
SAW = {"kerf": "3 mm", "head_trim": "8 mm", "tail_loss": "8 mm", "keep_length": "400 mm"}


def collect(service: Running, job: str, lengths: dict[int, int]) -> dict[str, object]:
    body = pieces_request(lengths, bars=(), job=job)
    answer = service.client.post("/v1/jobs", content=body, headers=JSON)
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def job(service: Running, name: str) -> dict[str, object]:
    return dict(service.client.get(f"/v1/jobs?name={name}").json()[0])


def test_lines_are_collected_once(either: Running) -> None:
    """The same again changes nothing; a changed line replaces what was there."""
    assert collect(either, "OY", {610: 2})["new"] == 1
    assert collect(either, "OY", {610: 2})["same"] == 1
    assert collect(either, "OY", {610: 3})["replaced"] == 1
    shown = job(either, "OY")
    assert (shown["lines"], shown["waiting"], shown["status"]) == (1, 1, "collected")


def test_jobs_planned_together_share_bars_and_know_their_part(either: Running) -> None:
    """Two jobs of two 610s: together one bar of 2500, apart two; each job has half of it."""
    add_shelf(either, 2500, price="14.00")
    ids = [str(collect(either, name, {610: 2})["jobs"][0]["id"]) for name in ("OY", "WK")]  # type: ignore[index]
    body = {"jobs": ids, "saw": SAW, "currency": "XTS"}
    made = either.client.post("/v1/jobs/plans", json=body)
    assert made.status_code == 202, made.text
    assert len(made.json()) == 1
    assert job(either, "OY")["status"] == "planning"
    either.make_plans()
    plan = made.json()[0]["id"]
    assert either.plan(plan)["summary"]["bars"] == 1
    assert either.client.post(f"/v1/plans/{plan}/release").status_code == 200
    for name in ("OY", "WK"):
        shown = job(either, name)
        assert (shown["status"], shown["pieces"], shown["done"]) == ("released", 2, 0)
        assert shown["cost"] == {"XTS": "7.00"}
        assert shown["good"]["nm"] == 1_220_000_000  # type: ignore[index]
    either.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
    assert (job(either, "WK")["done"], job(either, "WK")["status"]) == (2, "finished")
    again = either.client.post("/v1/jobs/plans", json=body)
    assert problem(again, 409) == "nothing-waiting"


def test_jobs_planned_apart_get_a_plan_each(either: Running) -> None:
    """Asked for apart, two jobs make two plans that can be released and withdrawn alone."""
    add_shelf(either, 2500)
    ids = [str(collect(either, name, {610: 2})["jobs"][0]["id"]) for name in ("OY", "WK")]  # type: ignore[index]
    made = either.client.post("/v1/jobs/plans", json={"jobs": ids, "together": False, "saw": SAW}).json()
    either.make_plans()
    assert [either.plan(plan["id"])["summary"]["jobs"] for plan in made] == [["OY"], ["WK"]]
    assert len(either.client.get("/v1/plans?job=OY").json()) == 1
    either.client.post(f"/v1/plans/{made[0]['id']}/withdraw")
    assert job(either, "OY")["status"] == "collected"
    assert job(either, "WK")["status"] == "proposed"


def test_a_line_in_a_plan_does_not_change_under_it(either: Running) -> None:
    """First the plan is withdrawn, then the line may change."""
    add_shelf(either, 2500)
    made = str(collect(either, "OY", {610: 2})["jobs"][0]["id"])  # type: ignore[index]
    plan = either.client.post("/v1/jobs/plans", json={"jobs": [made], "saw": SAW}).json()[0]["id"]
    body = pieces_request({610: 5}, bars=(), job="OY")
    refused = either.client.post("/v1/jobs", content=body, headers=JSON)
    assert problem(refused, 409) == "line-planned"
    (held,) = refused.json()["conflicts"]
    number = either.plan(held["plan"])["number"]
    assert f"is in plan P{number};" in refused.json()["detail"]
    either.client.post(f"/v1/plans/{plan}/withdraw")
    assert collect(either, "OY", {610: 5})["replaced"] == 1


def test_what_a_withdrawn_plan_has_cut_is_neither_forgotten_nor_cut_again(either: Running) -> None:
    """Bar 1 holds four of line A; B was not begun, so only B waits, and A goes on with the plan."""
    add_shelf(either, 2500)
    made = collect(either, "OY", {610: 4, 2400: 1})
    identity = made["jobs"][0]["id"]  # type: ignore[index]
    body = {"jobs": [identity], "saw": {"kerf": "3 mm", "head_trim": "8 mm", "tail_loss": "8 mm"}}
    plan = either.client.post("/v1/jobs/plans", json=body).json()[0]["id"]
    either.make_plans()
    either.client.post(f"/v1/plans/{plan}/release")
    bars = either.client.get(f"/v1/plans/{plan}/bars").json()
    number = next(bar["number"] for bar in bars if len(bar["cuts"]) > 1)
    either.client.post(f"/v1/plans/{plan}/bars/{number}/report", json={"outcome": "cut"})
    either.client.post(f"/v1/plans/{plan}/withdraw")
    stands = job(either, "OY")
    assert (stands["waiting"], stands["pieces"], stands["done"]) == (1, 4, 4)
    again = either.client.post(f"/v1/plans/{plan}/replan")
    assert again.status_code == 202, again.text
    either.make_plans()
    summary = either.plan(again.json()["id"])["summary"]
    assert (summary["pieces"], summary["pieces_done"]) == (5, 4)
    assert job(either, "OY")["waiting"] == 0


def test_what_waits_is_told_alike_through_withdrawing_planning_again_and_releasing(either: Running) -> None:
    """List, page and what can be planned agree at every step, and nothing half cut is finished."""
    add_shelf(either, 2500)
    identity = collect(either, "OY", {610: 4, 2400: 1})["jobs"][0]["id"]  # type: ignore[index]
    body = {"jobs": [identity], "saw": SAW}

    def stands() -> tuple[object, object]:
        shown = job(either, "OY")
        with either.store.read() as session:
            on_page = waiting_lines(session, str(identity))
        assert len(on_page) == shown["waiting"]
        return shown["waiting"], shown["status"]

    def again(plan: str) -> str:
        made = either.client.post(f"/v1/plans/{plan}/replan").json()["id"]
        assert stands() == (0, "planning")
        either.make_plans()
        return str(made)

    assert stands() == (2, "collected")
    first = either.client.post("/v1/jobs/plans", json=body).json()[0]["id"]
    either.make_plans()
    assert stands() == (0, "proposed")
    either.client.post(f"/v1/plans/{first}/withdraw")
    assert stands() == (2, "collected")
    second = either.client.post("/v1/jobs/plans", json=body).json()[0]["id"]
    assert stands() == (0, "planning")
    either.make_plans()
    either.client.post(f"/v1/plans/{second}/release")
    assert stands() == (0, "released")
    bars = either.client.get(f"/v1/plans/{second}/bars").json()
    number = next(bar["number"] for bar in bars if len(bar["cuts"]) > 1)
    either.client.post(f"/v1/plans/{second}/bars/{number}/report", json={"outcome": "cut"})
    third = again(second)
    assert stands() == (0, "proposed")
    # The 610s are cut and go on with their plan; the 2400 was not begun and waits.
    either.client.post(f"/v1/plans/{third}/withdraw")
    assert stands() == (1, "collected")
    fourth = again(third)
    either.client.post(f"/v1/plans/{fourth}/release")
    assert stands() == (0, "released")
    either.client.post(f"/v1/plans/{fourth}/withdraw")
    assert stands() == (1, "collected")
    last = again(fourth)
    either.client.post(f"/v1/plans/{last}/release")
    for bar in either.client.get(f"/v1/plans/{last}/bars?state=open").json():
        either.client.post(f"/v1/plans/{last}/bars/{bar['number']}/report", json={"outcome": "cut"})
    assert stands() == (0, "finished")
    shown = job(either, "OY")
    assert (shown["pieces"], shown["done"]) == (5, 5)


def test_a_job_left_half_cut_is_not_finished(either: Running) -> None:
    """Two bars of one line, one cut, the plan withdrawn: no line waits, and yet somebody must go on."""
    add_shelf(either, 2500)
    collect(either, "OY", {610: 8})
    identity = job(either, "OY")["id"]
    plan = either.client.post("/v1/jobs/plans", json={"jobs": [identity], "saw": SAW}).json()[0]["id"]
    either.make_plans()
    either.client.post(f"/v1/plans/{plan}/release")
    either.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
    either.client.post(f"/v1/plans/{plan}/withdraw")
    stands = job(either, "OY")
    assert (stands["waiting"], stands["status"], stands["done"]) == (0, "withdrawn", 4)
    made = either.client.post(f"/v1/plans/{plan}/replan").json()["id"]
    either.make_plans()
    assert job(either, "OY")["status"] == "proposed"
    # The one that goes on from it is given up too: what is cut is cut, and still nothing is finished.
    either.client.post(f"/v1/plans/{made}/withdraw")
    assert (job(either, "OY")["waiting"], job(either, "OY")["status"]) == (0, "withdrawn")


def test_a_job_of_bars_without_prices_has_no_cost(service: Running) -> None:
    """Nought would be read as for nothing."""
    collect(service, "OY", {610: 4})
    add_shelf(service, 2500)
    body = {"jobs": [job(service, "OY")["id"]], "saw": SAW}
    plan = service.client.post("/v1/jobs/plans", json=body).json()[0]["id"]
    service.make_plans()
    service.client.post(f"/v1/plans/{plan}/release")
    shown = job(service, "OY")
    assert (shown["cost"], shown["plans"][0]["cost"]) == ({}, None)  # type: ignore[index]


def test_unknown_jobs(service: Running) -> None:
    """Neither shown nor planned."""
    assert problem(service.client.get("/v1/jobs/" + "0" * 32), 404) == "not-found"
    body = {"jobs": ["0" * 32], "saw": SAW}
    assert problem(service.client.post("/v1/jobs/plans", json=body), 404) == "not-found"
