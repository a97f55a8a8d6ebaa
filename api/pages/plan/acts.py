"""What may be done with a plan: release, withdraw, plan again; what is refused is said on the same page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Annotated

from fastapi import APIRouter, Form
from fastapi.responses import RedirectResponse, Response
from sqlalchemy import select
from sqlalchemy.orm import Session

from api.access.keys import Scope
from api.deps import ShopHand
from api.offcuts.brought import put_on_rack
from api.pages.plan.endpoints import require
from api.pages.plan.numbers import bar_numbers
from api.pages.plan.page import Refusal, plan_page, refusal_of
from api.pages.results import result_of
from api.pages.visit import Visit, Visited
from api.plans.anew import plan_anew
from api.plans.endpoints import PlanId
from api.plans.release import release
from api.plans.replan import replan, withdraw
from api.plans.service import PlanOptions, get_plan
from api.plans.states import PlanState
from api.store.models import PlanRow
from api.web.problems import Problem
from nesting.reports.whereabouts import used_offcuts

router = APIRouter(prefix="/plans/{plan_id}")

Reason = Annotated[str, Form(max_length=300)]
_NEEDS_REASON = (PlanState.RELEASED, PlanState.IN_CUTTING)
_TITLES = {
    "release": "The plan is not released",
    "rack": "Nothing was put on the rack",
    "withdraw": "The plan is not withdrawn",
    "replan": "The plan is not planned again",
}


@router.post("/release")
def release_it(plan_id: PlanId, visit: Visited) -> Response:
    """Reserve all that the plan needs, or nothing, and say who has what is missing."""

    def act(session: Session, now: int) -> PlanRow:
        row = get_plan(session, plan_id, lock=True)
        if PlanState(row.state).released_before:
            return row  # the button was pressed twice
        return release(session, plan_id, visit.caller, now)

    return _done(visit, plan_id, "release", act)


@router.post("/rack")
def put_offcuts_on_rack(plan_id: PlanId, visit: Visited, caller: ShopHand) -> Response:
    """Put on the rack the offcuts the plan cuts that came with its list, so that it can be released."""
    plan = result_of(visit.service.store, plan_id)
    offcuts = [offcut for offcut, _ in used_offcuts(plan)] if plan else []

    def act(session: Session, now: int) -> PlanRow:
        row = get_plan(session, plan_id, lock=True)
        put_on_rack(session, offcuts, f"came with plan P{row.number}", caller.label, now)
        return row

    return _done(visit, plan_id, "rack", act)


@router.post("/withdraw")
def withdraw_it(plan_id: PlanId, visit: Visited, reason: Reason = "") -> Response:
    """Take the plan back, for a reason that is kept with it."""

    def act(session: Session, now: int) -> PlanRow:
        row = get_plan(session, plan_id, lock=True)
        if row.state == PlanState.WITHDRAWN.value:
            return row
        _need_reason(row, reason)
        return withdraw(session, plan_id, visit.caller, now, reason=reason.strip())

    return _done(visit, plan_id, "withdraw", act, {"reason": reason})


@router.post("/replan")
def plan_it_again(
    plan_id: PlanId,
    visit: Visited,
    reason: Reason = "",
    frozen: Annotated[str, Form(max_length=300)] = "",
    freely: Annotated[bool, Form()] = False,
) -> Response:
    """Plan again what is not made yet; of a plan that was never released, all of it on what is free now."""
    settings = visit.service.settings

    def act(session: Session, now: int) -> PlanRow:
        row = get_plan(session, plan_id, lock=True)
        after = select(PlanRow).where(PlanRow.parent == plan_id).order_by(PlanRow.number.desc()).limit(1)
        follower = session.scalar(after)
        if follower is not None and row.state in (PlanState.WITHDRAWN.value, PlanState.FINISHED.value):
            return follower  # the button was pressed twice
        options = PlanOptions(priority=row.priority, seed=row.seed, seconds=row.seconds)
        asked = (session, plan_id, options, visit.caller, now, settings)
        if not PlanState(row.state).released_before:
            return plan_anew(*asked, reason=reason.strip(), freely=freely)
        _need_reason(row, reason)
        return replan(*asked, reason=reason.strip(), frozen=_numbers(frozen), freely=freely)

    typed = {"reason": reason, "frozen": frozen, "freely": "yes" if freely else ""}
    return _done(visit, plan_id, "replan", act, typed)


@router.get("/release")
@router.get("/rack")
@router.get("/withdraw")
@router.get("/replan")
def back_to_plan(plan_id: PlanId) -> RedirectResponse:
    """Lead back from the address of a form that was refused, as when the unit is changed there."""
    return RedirectResponse(f"/plans/{plan_id}", 303)


class _Fault(Exception):
    """A field of the form is to blame."""

    def __init__(self, field: str, detail: str) -> None:
        super().__init__(detail)
        self.field, self.detail = field, detail


def _need_reason(row: PlanRow, reason: str) -> None:
    """Refuse to take a plan from the shop's bench without a word."""
    if PlanState(row.state) in _NEEDS_REASON and not reason.strip():
        detail = "Say why in a few words: the shop has this plan at the saw, and it is kept with the plan."
        raise _Fault("reason", detail)


def _numbers(text: str) -> tuple[int, ...]:
    try:
        return bar_numbers(text)
    except ValueError as why:
        raise _Fault("frozen", str(why)) from why


def _done(
    visit: Visit,
    plan_id: str,
    name: str,
    act: Callable[[Session, int], PlanRow],
    typed: Mapping[str, str] | None = None,
) -> Response:
    """Do one thing, then show the plan that came of it; refused, show this plan and why."""
    require(visit, Scope.PLAN)
    store = visit.service.store
    try:
        with store.write() as session:
            made = act(session, store.now(session)).id
    except _Fault as why:
        refusal = Refusal(act=name, title=_TITLES[name], detail=why.detail, field=why.field)
        return plan_page(visit, plan_id, status=422, refusal=refusal, typed=typed)
    except Problem as why:
        if why.status not in (409, 422):
            raise
        refusal = refusal_of(store, why, name, _TITLES[name])
        return plan_page(visit, plan_id, status=why.status, refusal=refusal, typed=typed)
    visit.service.poke()
    return RedirectResponse(f"/plans/{made}", 303)
