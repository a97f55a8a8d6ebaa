"""``/plans/{id}/saw``: all bars, one bar at a time, all that is open at once; reports from the form."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form, Path, Query, Request, Response
from fastapi.responses import JSONResponse, RedirectResponse
from pydantic import ValidationError
from sqlalchemy.orm import Session

from api.deps import Running, ShopHand
from api.pages.assets import assets
from api.pages.saw.form import MOST_DIGITS, Shown, Typed, Withdrawal, read_form
from api.pages.saw.outcome import STATE_WORDS
from api.pages.saw.overview import overview
from api.pages.saw.reading import AtSaw, plan_at_saw, read_sheets
from api.pages.saw.sheet import Sheet, Sheets
from api.pages.saw.tail import DOUBTS, tail_of
from api.pages.visit import Visit, Visited
from api.plans.cutting import Outcome
from api.plans.endpoints import PlanId
from api.plans.report_withdrawal import withdraw_report_once
from api.plans.reporting import report_once
from api.plans.states import BarState
from api.store.ids import new_id
from api.web.inputs import WithReason
from api.web.problems import Problem, not_found
from nesting.stockroom.cutting import ReportNotPossible
from nesting.stockroom.states import StockConflict

router = APIRouter()

Number = Annotated[int, Path(ge=1, le=2**31 - 1)]
Text = Annotated[str, Form(max_length=500)]


@router.get("/saw-worker.js")
def worker() -> Response:
    """Give the script that lets a tablet show its bars again while there is no connection."""
    return Response(
        assets()["saw-worker.js"].body, media_type="text/javascript", headers={"Cache-Control": "no-cache"}
    )


@router.get("/plans/{plan_id}/saw")
def all_bars(plan_id: PlanId, visit: Visited) -> Response:
    """List the bars in the order in which they are cut."""
    with visit.service.store.read() as session:
        at = plan_at_saw(visit, session, plan_id)
    return visit.page("saw/bars.html", at=at, bars=overview(at), lengths=at.lengths)


@router.get("/plans/{plan_id}/saw/sheets")
def open_sheets(plan_id: PlanId, visit: Visited) -> Response:
    """Show every bar that is still to be cut, for paper and for a tablet that may lose its connection."""
    with visit.service.store.read() as session:
        at = plan_at_saw(visit, session, plan_id)
        numbers = [number for number, state in at.states.items() if state is BarState.OPEN]
        sheets = list(read_sheets(session, at, numbers))
    return visit.page(
        "saw/sheets.html",
        at=at,
        sheets=sheets,
        shown=Shown(),
        back_asked=Withdrawal(),
        doubts=DOUBTS,
        fresh_key=new_id,
        lengths=at.lengths,
    )


@router.get("/plans/{plan_id}/saw/{number}")
def one_bar(
    plan_id: PlanId, number: Number, visit: Visited, cut: Annotated[int, Query(ge=0, le=10**6)] = 0
) -> Response:
    """Show one bar, at the step of it that is next."""
    with visit.service.store.read() as session:
        at, sheet = _read(visit, session, plan_id, number)
    return _bar_page(visit, at, sheet, cut)


@router.post("/plans/{plan_id}/saw/{number}")
def report(
    request: Request,
    plan_id: PlanId,
    number: Number,
    visit: Visited,
    service: Running,
    caller: ShopHand,
    key: Annotated[str, Form(max_length=200)] = "",
    outcome: Text = "",
    tail: Text = "",
    unit: Text = "mm",
    spoiled: Annotated[list[str], Form(max_length=1000)] = [],  # noqa: B006 (FastAPI copies it)
    piece: Annotated[list[str], Form(max_length=1000)] = [],  # noqa: B006
    came: Annotated[list[str], Form(max_length=1000)] = [],  # noqa: B006
    place: Text = "",
    note: Text = "",
    sure: Text = "",
    made: Text = "",
    rest: Text = "",
    final: Text = "",
) -> Response:
    """Take in what the saw says of one bar; the same report again is answered the same."""
    typed = Typed(
        key=key,
        outcome=outcome,
        tail=tail,
        unit=unit,
        spoiled=tuple(spoiled),
        came=tuple(zip(piece, came, strict=False)),
        place=place,
        note=note,
        sure=bool(sure),
        made=made.strip(),
        rest=rest,
        final=bool(final),
    )
    with service.store.read() as session:
        at = plan_at_saw(visit, session, plan_id)
    if number not in at.states:
        raise not_found(f"bar {number} of plan P{at.number}")
    group, bar = Sheets(at.plan, at.lengths).planned(number)
    read = read_form(typed, tail_of(group, bar, at.lengths))
    by_script = "text/html" not in request.headers.get("accept", "")
    if read.report is None:
        if by_script:
            raise Problem(422, "report-refused", " ".join(read.faults.values()))
        return _again(visit, plan_id, number, 422, shown=Shown(typed, read.faults))
    try:
        with service.store.write() as session:
            now = service.store.now(session)
            row = report_once(session, plan_id, number, read.report, key or None, caller, now)
            answer = {"plan": plan_id, "bar": number, "state": row.state, "born": row.born or ""}
    except (Problem, ReportNotPossible, StockConflict) as why:
        if by_script or (isinstance(why, Problem) and why.status not in (409, 422)):
            raise
        status = (
            why.status if isinstance(why, Problem) else 422 if isinstance(why, ReportNotPossible) else 409
        )
        return _again(visit, plan_id, number, status, shown=Shown(typed, refusal=str(why)))
    if by_script:
        return JSONResponse(answer | {"words": STATE_WORDS[BarState(str(answer["state"]))]})
    return RedirectResponse(f"/plans/{plan_id}/saw/{number}", 303)


@router.post("/plans/{plan_id}/saw/{number}/withdraw")
def withdraw_report(
    plan_id: PlanId,
    number: Number,
    visit: Visited,
    service: Running,
    caller: ShopHand,
    key: Annotated[str, Form(max_length=200)] = "",
    reason: Text = "",
) -> Response:
    """Take back what was reported of a bar by mistake, and show the bar open again."""
    asked = Withdrawal(key=key, reason=reason)
    try:
        why = WithReason(reason=reason.strip()).reason
    except ValidationError:
        asked = replace(asked, fault="Say why, in a few words: whoever looks into the books finds it.")
        return _again(visit, plan_id, number, 422, back=asked)
    try:
        with service.store.write() as session:
            now = service.store.now(session)
            withdraw_report_once(session, plan_id, number, why, key or None, caller, now)
    except Problem as refused:
        if refused.status not in (409, 422):
            raise
        asked = replace(asked, refusal=str(refused))
        return _again(visit, plan_id, number, refused.status, back=asked)
    return RedirectResponse(f"/plans/{plan_id}/saw/{number}", 303)


def _read(visit: Visit, session: Session, plan_id: str, number: int) -> tuple[AtSaw, Sheet]:
    at = plan_at_saw(visit, session, plan_id)
    if number not in at.states:
        raise not_found(f"bar {number} of plan P{at.number}")
    return at, next(read_sheets(session, at, [number]))


def _again(
    visit: Visit,
    plan_id: str,
    number: int,
    status: int,
    *,
    shown: Shown | None = None,
    back: Withdrawal | None = None,
) -> Response:
    """Show the bar as it stands now, with what was typed into one of its forms and why it was not taken."""
    with visit.service.store.read() as session:
        at, sheet = _read(visit, session, plan_id, number)
    step = _step(shown.typed, sheet) if shown else 0
    return _bar_page(visit, at, sheet, step, status, shown, back)


def _step(typed: Typed, sheet: Sheet) -> int:
    """Give the step a form belongs to: a bar given up stands where its cuts end, any other at its tail."""
    if typed.outcome == Outcome.DEFECT and typed.made.isdecimal():
        return int(typed.made[:MOST_DIGITS]) + 1
    return 0 if typed.outcome == Outcome.MISSING else sheet.last + 1


def _bar_page(
    visit: Visit,
    at: AtSaw,
    sheet: Sheet,
    step: int,
    status: int = 200,
    shown: Shown | None = None,
    back: Withdrawal | None = None,
) -> Response:
    first = 0 if sheet.trim else 1
    return visit.page(
        "saw/bar.html",
        status,
        at=at,
        sheet=sheet,
        step=min(max(step, first), sheet.last + 1),
        next=at.next_open(sheet.number),
        shown=shown or Shown(),
        back_asked=back or Withdrawal(),
        doubts=DOUBTS,
        fresh_key=new_id,
        lengths=at.lengths,
    )
