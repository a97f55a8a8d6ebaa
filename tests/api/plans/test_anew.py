"""A plan whose stock is gone, planned once more; and why plans were given up."""

import pytest
from sqlalchemy.orm import Session

from api.access.keys import LOCAL
from api.catalogue.contents import Contents
from api.plans.anew import on_what_is_free, plan_anew
from api.plans.replan import replan, withdraw
from api.plans.service import PlanOptions
from api.processes.follow import read_follow
from api.settings import Settings
from api.store.documents import DocumentKind, get_document
from api.store.models import PlanRow
from api.web.problems import Problem
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.exchange import read_request
from nesting.units import mm
from tests.api.problems import problem
from tests.api.service import FAMILY, FINISH, SAW, Running, pieces_request
from tests.api.shelving import add_offcut, add_shelf, offcut

OPTIONS = PlanOptions(seconds=5)


def anew(service: Running, plan: str, reason: str = "") -> str:
    with service.store.write() as session:
        now = service.store.now(session)
        return plan_anew(session, plan, OPTIONS, LOCAL, now, Settings(), reason=reason).id


def row(session: Session, plan: str) -> PlanRow:
    return session.query(PlanRow).filter_by(id=plan).one()


def test_a_lost_offcut_is_planned_around(service: Running) -> None:
    """After a conflict the same pieces are planned on what the other plan has left."""
    add_shelf(service, 2500, on_hand=5)
    add_offcut(service, "FL-1", 1300)
    first, second = (service.proposed(pieces_request({610: 6}, bars=(), job=job)) for job in ("OY", "WK"))
    service.client.post(f"/v1/plans/{first}/release")
    made = anew(service, second, "FL-1 is taken")
    service.make_plans()
    assert service.client.post(f"/v1/plans/{made}/release").status_code == 200
    assert offcut(service, "FL-1")["plan"] == first
    with service.store.read() as session:
        old = row(session, second)
        assert (old.state, old.reason, old.closed_by) == ("withdrawn", "FL-1 is taken", "this machine")
        assert row(session, made).parent == second


def test_the_same_pieces_are_asked_for(service: Running) -> None:
    """Nothing is lost or doubled on the way into the new request."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 6, 905: 3}, bars=()))
    made = anew(service, plan)
    with service.store.read() as session:
        old, new = (
            read_request(get_document(session, one, DocumentKind.REQUEST) or "", source="request")
            for one in (plan, made)
        )
    assert (new.runs, new.piece_lines, new.saw) == (old.runs, old.piece_lines, old.saw)


def test_a_released_plan_is_not_planned_anew(service: Running) -> None:
    """Its bars may be under the saw: what is open of it is planned again instead."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 6}, bars=()))
    service.client.post(f"/v1/plans/{plan}/release")
    with pytest.raises(Problem, match="only one that is proposed or failed or withdrawn"):
        anew(service, plan)


def test_no_more_bars_than_there_are() -> None:
    """A length that cannot be bought is offered as often as it is free; others as the request says."""
    line = StockLine(family=FAMILY, finish=FINISH, length=mm(2500), count=7)
    other = StockLine(family=FAMILY, finish=FINISH, length=mm(3000), count=4)
    lines = (PieceLine(job="OY", id="P1", family=FAMILY, finish=FINISH, length=mm(610)),)
    request = Request(piece_lines=lines, stock=(line, other), saw=SAW)
    free = StockLine(family=FAMILY, finish=FINISH, length=mm(2500), count=2)
    assert [one.count for one in on_what_is_free(request, Contents(stock=(free,))).stock] == [2, 4]


@pytest.mark.parametrize("act", ["withdraw", "replan"])
def test_the_reason_is_kept(service: Running, act: str) -> None:
    """Who wonders in a month why a plan was given up finds it with the plan."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 6}, bars=()))
    service.client.post(f"/v1/plans/{plan}/release")
    with service.store.write() as session:
        now = service.store.now(session)
        if act == "withdraw":
            withdraw(session, plan, LOCAL, now, reason="the job is off")
        else:
            replan(session, plan, OPTIONS, LOCAL, now, Settings(), reason="the job is off")
    with service.store.read() as session:
        assert row(session, plan).reason == "the job is off"


def test_why_and_by_whom_a_plan_was_closed_is_answered(either: Running) -> None:
    """Who reads a plan over HTTP learns what the page says: the reason, and whose key it was."""
    add_shelf(either, 2500)
    plan = either.proposed(pieces_request({610: 6}, bars=()))
    open_plan = either.plan(plan)
    assert (open_plan["reason"], open_plan["closed_by"]) == ("", None)
    body = {"reason": "drawing B changed"}
    made = either.client.post(f"/v1/plans/{plan}/replan", json=body).json()["id"]
    old = either.plan(plan)
    assert (old["state"], old["reason"], old["closed_by"]) == (
        "withdrawn",
        "drawing B changed",
        "this machine",
    )
    headers = {"Idempotency-Key": "off"}
    shown = [
        either.client.post(f"/v1/plans/{made}/withdraw", json={"reason": "job is off"}, headers=headers)
        for _ in range(2)
    ]
    assert [answer.json()["reason"] for answer in shown] == ["job is off", "job is off"]
    other = either.client.post(f"/v1/plans/{made}/withdraw", json={"reason": "other"}, headers=headers)
    assert problem(other, 422) == "idempotency-key-reused"
    listed = either.client.get("/v1/plans").json()
    assert [one["reason"] for one in listed] == ["job is off", "drawing B changed"]
    misspelt = either.client.post(f"/v1/plans/{made}/withdraw", json={"raeson": "x"})
    assert misspelt.json()["findings"][0]["at"] == "/raeson"


def test_what_goes_on_from_a_cut_plan_may_be_planned_afresh(service: Running) -> None:
    """A proposed successor is planned once more, all its open bars afresh; what was cut stays cut."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 6}, bars=()))
    service.client.post(f"/v1/plans/{plan}/release")
    service.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
    following = service.client.post(f"/v1/plans/{plan}/replan").json()["id"]
    service.make_plans()
    with service.store.write() as session:
        made = plan_anew(
            session, following, OPTIONS, LOCAL, service.store.now(session), Settings(), freely=True
        ).id
    with service.store.read() as session:
        asked = get_document(session, made, DocumentKind.FOLLOWS)
        assert row(session, following).state == "withdrawn"
    assert asked is not None
    assert read_follow(asked).freely
    service.make_plans()
    assert service.plan(made)["summary"]["pieces_done"] > 0
