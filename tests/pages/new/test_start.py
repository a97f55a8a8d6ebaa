"""A draft is planned once, by the way every plan goes; and not before everything is settled."""

from __future__ import annotations

import json

from nesting.units import mm
from tests.api.service import FAMILY, FINISH, Running, pieces_request
from tests.api.shelving import add_offcut, offcut

PAGE = {"Accept": "text/html"}
ROWS = "Job,Piece,Quantity,Length (mm),Family,Finish\nOY,P1,2,904,TOLV-17N,natural\n"


def draft(service: Running, rows: str = ROWS, name: str = "list.csv") -> str:
    sent = service.client.post(
        "/new", files={"file": (name, rows.encode())}, headers=PAGE, follow_redirects=False
    )
    assert sent.status_code == 303
    return str(sent.headers["location"])


def start(service: Running, address: str, **typed: str) -> tuple[int, str]:
    answer = service.client.post(f"{address}/start", data=typed, headers=PAGE, follow_redirects=False)
    return answer.status_code, str(answer.headers.get("location", answer.text))


def test_pressed_twice_it_is_one_plan_and_changed_it_is_another(service: Running) -> None:
    """Twice the same button orders nothing twice; a changed list is a new plan."""
    address = draft(service)
    status, first = start(service, address, bars="2500 mm")
    assert status == 303
    assert start(service, address, bars="2500 mm") == (303, first)
    status, second = start(service, address, bars="3000 mm")
    assert (status, second != first) == (303, True)
    assert len(service.client.get("/v1/plans").json()) == 2
    assert service.make_plans() == 2


def test_nothing_is_planned_while_anything_is_to_be_settled(service: Running) -> None:
    """No bar to cut from: the page comes back with what is missing, and the queue stays empty."""
    status, text = start(service, draft(service))
    assert status == 422
    assert "No bar is known to cut from" in text
    assert "Nothing was planned" in text
    assert service.client.get("/v1/plans").json() == []


def test_a_json_request_is_planned_as_it_says(service: Running) -> None:
    """The same document as by the API gives the same plan."""
    body = pieces_request({904: 3, 610: 2})
    status, address = start(service, draft(service, body, "request.json"))
    assert status == 303
    sent = service.send(body)
    assert sent.status_code == 202
    assert service.make_plans() == 2
    one, other = service.client.get("/v1/plans").json()
    assert address.endswith((one["id"], other["id"]))
    assert one["summary"]["digest"] == other["summary"]["digest"]


def test_a_json_request_that_is_refused_says_where(service: Running) -> None:
    """By its pointer; there is no cell to correct."""
    tree = json.loads(pieces_request({904: 3}))
    tree["piece_lines"][0]["quantity"] = 0
    page = service.client.get(draft(service, json.dumps(tree), "request.json"), headers=PAGE).text
    assert "/piece_lines/0/quantity" in page
    assert "must be settled" in page


def test_a_key_that_may_only_look_cannot_plan(service: Running) -> None:
    """The pages hold to the same scopes as the API."""
    from api.access.keys import Scope
    from tests.api.access.test_keys import bearer, key

    reader = bearer(key(service, Scope.READ))
    for path in ("/new", "/demo"):
        assert service.client.post(path, headers=PAGE | reader).status_code == 403
    assert service.client.get("/new", headers=PAGE | reader).status_code == 403


def test_offcuts_of_the_list_alone_are_told_and_can_be_put_on_the_rack(service: Running) -> None:
    """Before it is planned: R-1 is new, FL-1 measures 1300 mm on the rack and 1310 in the list."""
    add_offcut(service, "FL-1", 1300)
    tree = json.loads(pieces_request({904: 3}))
    ends = {"family": FAMILY, "finish": FINISH, "part": "channel", "left": "clean", "right": "raw"}
    tree["offcuts"] = [
        {"tag": tag, "length_nm": int(mm(length)), **ends} for tag, length in (("R-1", 1500), ("FL-1", 1310))
    ]
    address = draft(service, json.dumps(tree), "request.json")
    page = service.client.get(address, headers=PAGE).text.replace("\u00a0", " ")
    assert "Not on the rack: <b>R-1</b> 1500 mm." in page
    assert "measures 1310 mm in the list and 1300 mm on the rack" in page
    put = service.client.post(f"{address}/rack", headers=PAGE, data={}, follow_redirects=False)
    assert (put.status_code, put.headers["location"]) == (303, address)
    assert offcut(service, "R-1")["state"] == "free"
    page = service.client.get(address, headers=PAGE).text
    assert "Put " not in page
    assert "/rack/FL-1" in page
