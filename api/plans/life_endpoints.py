"""``/v1/plans/{id}``: releasing, cutting, taking reports back, withdrawing, planning again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Body, Path, Query, Request, Response
from pydantic import Field
from sqlalchemy import select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.deps import Planner, Reader, Running, Service, ShopHand, UnitAsked
from api.plans.anew import NEVER_AT_THE_SAW, plan_anew
from api.plans.bar_schemas import BarRead, BarReport
from api.plans.cutting import bars_in_turn, get_bar
from api.plans.documentation import WITHDRAWAL_EXAMPLES, WITHDRAWAL_REPLIES
from api.plans.endpoints import PlanId, Priority, Seconds, Seed
from api.plans.release import release
from api.plans.replan import replan, withdraw
from api.plans.report_withdrawal import withdraw_report_once
from api.plans.reporting import report_once
from api.plans.schemas import PlanRead
from api.plans.service import PlanOptions, get_plan
from api.plans.states import BarState, PlanState
from api.store.models import BarRow, PlanRow
from api.web.inputs import MayHaveReason, WithReason
from api.web.pages import PageSize, one_page
from api.web.preconditions import IfMatch, etag, require_match
from api.web.replies import IdempotencyKey, Reply, digest, earlier_reply, keep_reply
from nesting.units import Unit

router = APIRouter(prefix="/v1/plans/{plan_id}", tags=["plans"])

Frozen = Annotated[
    list[Annotated[int, Field(ge=1, le=2**31 - 1)]] | None,
    Query(max_length=1_000, description="Bars still to be cut that must not change."),
]
Freely = Annotated[
    bool, Query(description="Plan all open bars afresh where that costs less; else as few as can be change.")
]
BarNumber = Annotated[int, Path(ge=1, le=2**31 - 1, description="Number of the bar in the plan.")]


@router.post("/release", response_model=PlanRead)
def release_plan(
    plan_id: PlanId,
    response: Response,
    service: Running,
    caller: Planner,
    unit: UnitAsked = Unit.MM,
    if_match: IfMatch = None,
    idempotency_key: IdempotencyKey = None,
) -> PlanRead:
    """Reserve the plan's bars and offcuts, all or nothing; a conflict names who has what."""

    def act(session: Session, now: int) -> PlanRow:
        require_match(if_match, get_plan(session, plan_id, lock=True).version, needed=False)
        return release(session, plan_id, caller, now)

    return _once(f"release {plan_id}", act, idempotency_key, response, service, caller, unit)


@router.post("/withdraw", response_model=PlanRead)
def withdraw_plan(
    plan_id: PlanId,
    response: Response,
    service: Running,
    caller: Planner,
    why: MayHaveReason | None = None,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> PlanRead:
    """Take the plan back; what it has reserved is free again, what it has cut stays cut."""
    reason = why.reason if why else ""

    def act(session: Session, now: int) -> PlanRow:
        return withdraw(session, plan_id, caller, now, reason=reason)

    return _once(f"withdraw {plan_id} {reason}", act, idempotency_key, response, service, caller, unit)


@router.post("/replan", status_code=202, response_model=PlanRead)
def plan_again(
    plan_id: PlanId,
    response: Response,
    service: Running,
    caller: Planner,
    why: MayHaveReason | None = None,
    unit: UnitAsked = Unit.MM,
    priority: Priority = 0,
    seed: Seed = 0,
    seconds: Seconds = None,
    frozen: Frozen = None,
    freely: Freely = False,
    idempotency_key: IdempotencyKey = None,
) -> PlanRead:
    """
    Go on from where a plan stands, on what is on the rack now; answers with the new plan.

    Of a released plan what is cut or frozen stays, and the rest changes as little as it can. A plan that
    is proposed, failed or withdrawn is planned once more on what is free now; nothing that was cut of it
    is cut again.
    """
    limit = service.settings.plan_seconds if seconds is None else seconds
    options = PlanOptions(priority=priority, seed=seed, seconds=limit)
    reason = why.reason if why else ""

    def act(session: Session, now: int) -> PlanRow:
        asked = (session, plan_id, options, caller, now, service.settings)
        if PlanState(get_plan(session, plan_id, lock=True).state) in NEVER_AT_THE_SAW and not frozen:
            return plan_anew(*asked, reason=reason, freely=freely)
        return replan(*asked, reason=reason, frozen=frozen or (), freely=freely)

    asked = f"replan {plan_id} {options!r} {frozen!r} {freely!r} {reason}"
    made = _once(asked, act, idempotency_key, response, service, caller, unit)
    response.headers["Location"] = made.links.self
    service.poke()
    return made


@router.get("/bars", response_model=list[BarRead])
def list_bars(
    plan_id: PlanId,
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
    state: Annotated[list[BarState] | None, Query(description="Only bars in these states.")] = None,
    after: Annotated[int | None, Query(ge=0, le=2**31 - 1, description="Cursor from the Link.")] = None,
    limit: PageSize = 100,
) -> list[BarRead]:
    """
    List the bars of a released plan in cutting order.

    A plan that goes on from another one keeps its bars' numbers, and may cut them in another order.
    """
    query = select(BarRow).where(BarRow.plan_id == plan_id)
    if state:
        query = query.where(BarRow.state.in_([one.value for one in state]))
    with service.store.read() as session:
        turn = bars_in_turn(session, get_plan(session, plan_id))
        behind = turn[turn.index(after) + 1 :] if after in turn else turn
        wanted = set(session.scalars(query.with_only_columns(BarRow.number)))
        numbers = [number for number in behind if number in wanted][: limit + 1]
        found = {row.number: row for row in session.scalars(query.where(BarRow.number.in_(numbers)))}
        rows = [found[number] for number in numbers if number in found]
    last = str(rows[limit - 1].number) if len(rows) > limit else None
    return [BarRead.of(row, unit) for row in one_page(rows, limit, last, request, response)]


@router.get("/bars/{number}", response_model=BarRead)
def read_bar(
    plan_id: PlanId, number: BarNumber, service: Running, caller: Reader, unit: UnitAsked = Unit.MM
) -> BarRead:
    """Show one bar."""
    with service.store.read() as session:
        return BarRead.of(get_bar(session, plan_id, number), unit)


@router.post("/bars/{number}/report", response_model=BarRead)
def report(
    plan_id: PlanId,
    number: BarNumber,
    body: BarReport,
    service: Running,
    caller: ShopHand,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> BarRead:
    """
    Report one bar from the saw: cut, with a defect, or not found.

    The tail becomes a tagged offcut in the same moment. Reporting the same again changes nothing.
    """
    with service.store.write() as session:
        now = service.store.now(session)
        row = report_once(session, plan_id, number, body, idempotency_key, caller, now)
        return BarRead.of(row, unit)


@router.post("/bars/{number}/report/withdraw", response_model=BarRead, responses=WITHDRAWAL_REPLIES)
def withdraw_the_report(
    plan_id: PlanId,
    number: BarNumber,
    why: Annotated[WithReason, Body(openapi_examples=WITHDRAWAL_EXAMPLES)],
    service: Running,
    caller: ShopHand,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> BarRead:
    """
    Take back what was reported of a bar by mistake; it is open again as before.

    Its bar or offcut is the plan's again, what was born of it is off the rack, and the ledger puts the metal
    back in entries of their own. Reported again, it gets the tag it had. Answered with 409 where nothing is
    reported of it, where the plan was planned again or withdrawn, and where something has become of what was
    born or set aside: conflicts name it, and who has it.
    """
    with service.store.write() as session:
        now = service.store.now(session)
        row = withdraw_report_once(session, plan_id, number, why.reason, idempotency_key, caller, now)
        return BarRead.of(row, unit)


def _once(
    asked: str,
    act: Callable[[Session, int], PlanRow],
    key: str | None,
    response: Response,
    service: Service,
    caller: Caller,
    unit: Unit,
) -> PlanRead:
    """Do one thing with a plan, or, when the same request has done it before, show what came of it."""
    asked = digest(asked)
    with service.store.write() as session:
        if earlier := earlier_reply(session, caller.id, key, asked):
            row = get_plan(session, str(earlier.body))
        else:
            now = service.store.now(session)
            row = act(session, now)
            keep_reply(session, caller.id, key, asked, Reply(200, row.id), now)
        read = PlanRead.of(session, row, unit)
    response.headers["ETag"] = etag(row.version)
    return read
