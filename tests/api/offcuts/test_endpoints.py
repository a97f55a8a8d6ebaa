"""The rack over HTTP: measured, corrected with a reason, never overwritten unseen."""

from tests.api.plans.test_life import release
from tests.api.problems import problem
from tests.api.service import FAMILY, Running, pieces_request
from tests.api.shelving import act, add_offcut, add_shelf, balance, offcut


def test_an_offcut_comes_on_the_rack_with_all_that_is_known_of_it(either: Running) -> None:
    """Length exactly as measured, in whichever unit the tape has."""
    body = {
        "tag": "FL-1",
        "family": FAMILY,
        "finish": "natural",
        "length": "49 1/4 in",
        "lot": "L7",
        "place": "B, shelf 3",
        "value": "4.20",
    }
    made = either.client.post("/v1/offcuts?unit=in", json=body)
    assert made.status_code == 201, made.text
    assert made.headers["Location"] == "/v1/offcuts/FL-1"
    shown = made.json()
    # 49.25 x 25 400 000 nm
    assert shown["length"] == {"nm": 1_250_950_000, "text": "49 1/4 in"}
    assert (shown["lot"], shown["place"], shown["value"], shown["state"]) == (
        "L7",
        "B, shelf 3",
        "4.20",
        "free",
    )
    assert shown["born_at"].endswith("Z")


def test_a_tag_is_never_used_again(service: Running) -> None:
    """Not even after its offcut has been scrapped."""
    add_offcut(service, "FL-1", 1300)
    assert act(service, "/v1/offcuts/FL-1/scrap", {"reason": "bent"}).json()["state"] == "scrapped"
    again = service.client.post("/v1/offcuts", json={"tag": "FL-1", "family": FAMILY, "length": "1 m"})
    assert problem(again, 409) == "tag-used"
    assert balance(service)["scrap"] == 1300


def test_nobody_overwrites_what_they_have_not_seen(either: Running) -> None:
    """Without If-Match nothing is changed, nor with the tag of an older version."""
    add_offcut(either, "FL-1", 1300)
    seen = either.client.get("/v1/offcuts/FL-1").headers["ETag"]
    change = {"place": "A1", "reason": "moved"}
    assert problem(either.client.patch("/v1/offcuts/FL-1", json=change), 428) == "precondition-needed"
    first = either.client.patch("/v1/offcuts/FL-1", json=change, headers={"If-Match": seen})
    assert first.status_code == 200
    late = either.client.patch("/v1/offcuts/FL-1", json={**change, "place": "C9"}, headers={"If-Match": seen})
    assert problem(late, 412) == "changed-meanwhile"
    assert offcut(either, "FL-1")["place"] == "A1"


def test_a_correction_keeps_its_reason(service: Running) -> None:
    """The ledger says who, when and why, and where the difference went."""
    add_offcut(service, "FL-1", 1300)
    change = {"length_nm": 1_298_500_000, "lot": "L7", "reason": "tape"}
    tag = service.client.get("/v1/offcuts/FL-1").headers["ETag"]
    assert service.client.patch("/v1/offcuts/FL-1", json=change, headers={"If-Match": tag}).status_code == 200
    events = service.client.get("/v1/events?thing=FL-1").json()
    assert [(event["kind"], event["reason"]) for event in events[1:]] == [
        ("correct", "tape"),
        ("measure", "tape"),
    ]
    assert balance(service)["measure"] == 1.5


def test_counting_the_rack(service: Running) -> None:
    """An offcut that is as long as written is seen; another one is measured."""
    add_offcut(service, "FL-1", 1300)
    assert act(service, "/v1/offcuts/FL-1/count", {"length": "1300 mm"}).status_code == 200
    assert (
        act(service, "/v1/offcuts/FL-1/count", {"length": "1299 mm"}).json()["length"]["nm"] == 1_299_000_000
    )
    kinds = [event["kind"] for event in service.client.get("/v1/events?thing=FL-1").json()]
    assert kinds == ["receive", "count", "measure"]


def test_who_has_an_offcut_is_told_by_the_number_of_its_plan(service: Running) -> None:
    """People know a plan as P1; the id that programs need stands beside it."""
    add_shelf(service, 2500, on_hand=1)
    add_offcut(service, "FL-1", 1300)
    plan = service.proposed(pieces_request({610: 6}, bars=()))
    release(service, plan)
    refused = act(service, "/v1/offcuts/FL-1/scrap", {"reason": "bent"})
    assert problem(refused, 409) == "stock-conflict"
    number = service.plan(plan)["number"]
    assert f"FL-1 is reserved by plan P{number}" in refused.json()["detail"]
    assert plan not in refused.json()["detail"]
    assert refused.json()["conflicts"] == [
        {"thing": "FL-1", "state": "reserved", "plan": plan, "holder": "this machine"}
    ]


def test_quarantine_restore_lose_and_find(service: Running) -> None:
    """Each way out of the free ones and back, and what is refused on the way."""
    add_offcut(service, "FL-1", 1300)
    reason = {"reason": "scratch"}
    assert act(service, "/v1/offcuts/FL-1/quarantine", reason).json()["state"] == "quarantined"
    assert act(service, "/v1/offcuts/FL-1/restore", reason).json()["state"] == "free"
    assert problem(act(service, "/v1/offcuts/FL-1/restore", reason), 409) == "stock-conflict"
    assert act(service, "/v1/offcuts/FL-1/lose", reason).json()["state"] == "lost"
    found = act(service, "/v1/offcuts/FL-1/find", {"reason": "behind B3", "length": "1290 mm"}).json()
    assert (found["state"], found["length"]["nm"]) == ("free", 1_290_000_000)
    balance(service)


def test_filters_and_pages(service: Running) -> None:
    """The free ones long enough, two at a time."""
    for number in range(5):
        add_offcut(service, f"FL-{number}", 1000 + 100 * number)
    act(service, "/v1/offcuts/FL-4/scrap", {"reason": "bent"})
    path = f"/v1/offcuts?state=free&family={FAMILY}&shortest=1100000000&limit=2"
    first = service.client.get(path)
    second = service.client.get(first.links["next"]["url"])
    assert [one["tag"] for one in first.json() + second.json()] == ["FL-1", "FL-2", "FL-3"]
    assert service.client.get("/v1/offcuts?part=cover").json() == []


def test_what_is_no_offcut_is_refused_with_its_field(service: Running) -> None:
    """Wrong tag, no length, both lengths, a length that is none, a field nobody knows."""
    good = {"tag": "FL-1", "family": FAMILY, "length": "1 m"}
    for change, at in (
        ({"tag": "F L"}, "/tag"),
        ({"length": None}, "/"),
        ({"length_nm": 5}, "/"),
        ({"length": "long"}, "/"),
        ({"lenght": "1 m"}, "/lenght"),
        ({"value": "-1"}, "/value"),
        ({"family": "\x00"}, "/family"),
    ):
        answer = service.client.post("/v1/offcuts", json={**good, **change})
        assert problem(answer, 422) == "not-valid"
        assert answer.json()["findings"][0]["at"] == at
    assert problem(service.client.get("/v1/offcuts/none"), 404) == "not-found"


def test_putting_the_same_offcut_in_twice_by_accident(service: Running) -> None:
    """With an idempotency key the second request is answered like the first."""
    body = {"tag": "FL-1", "family": FAMILY, "length": "1 m"}
    headers = {"Idempotency-Key": "a"}
    answers = [service.client.post("/v1/offcuts", json=body, headers=headers) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [201, 201]
    assert balance(service)["store"] == 1000


def test_an_act_repeated_under_its_key_is_no_conflict(service: Running) -> None:
    """The tag it was sent with is an old one by then; nobody else has changed anything."""
    add_offcut(service, "FL-1", 1300)
    headers = {"If-Match": service.client.get("/v1/offcuts/FL-1").headers["ETag"], "Idempotency-Key": "k"}
    for _ in range(2):
        answer = service.client.post("/v1/offcuts/FL-1/scrap", json={"reason": "bent"}, headers=headers)
        assert (answer.status_code, answer.json()["state"]) == (200, "scrapped")
    assert balance(service)["scrap"] == 1300


def test_an_offcut_is_as_old_as_is_said(service: Running) -> None:
    """A rack that moves in keeps its ages; a day to come is a slip that would keep an offcut for ever."""
    add_offcut(service, "FL-1", 1300, born="2024-05-02")
    assert offcut(service, "FL-1")["born_at"] == "2024-05-02T00:00:00.000000Z"
    body = {"tag": "FL-2", "family": FAMILY, "length": "1 m"}
    late = service.client.post("/v1/offcuts", json={**body, "born": "2999-01-01"})
    assert problem(late, 422) == "born-later"
    strange = service.client.post("/v1/offcuts", json={**body, "born": "May"})
    assert strange.json()["findings"][0]["at"] == "/born"
    assert service.client.get("/v1/offcuts/FL-2").status_code == 404


def test_a_wrong_day_is_put_right_and_another_correction_leaves_it(service: Running) -> None:
    """Moving an offcut to another place must not round its moment of birth to a day."""
    add_offcut(service, "FL-1", 1300)
    born = offcut(service, "FL-1")["born_at"]

    def correct(**change: str) -> int:
        tag = service.client.get("/v1/offcuts/FL-1").headers["ETag"]
        body = {**change, "reason": "label"}
        return service.client.patch("/v1/offcuts/FL-1", json=body, headers={"If-Match": tag}).status_code

    assert correct(place="A1") == 200
    assert offcut(service, "FL-1")["born_at"] == born
    assert correct(born="2023-11-30") == 200
    assert offcut(service, "FL-1")["born_at"] == "2023-11-30T00:00:00.000000Z"
    assert correct(born="2999-01-01") == 422
