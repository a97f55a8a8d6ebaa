"""``/v1/plans``: sending, following and fetching plans."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Header, Path, Query, Request, Response
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, StreamingResponse
from sqlalchemy import select

from api.access.keys import Caller
from api.deps import Planner, Reader, Running, Service, UnitAsked
from api.plans.documentation import PLAN_BODY, PLAN_REPLIES, RESULT_REPLIES
from api.plans.intake import read_body, understand
from api.plans.negotiation import best_type
from api.plans.render import JSON, RESULT_TYPES
from api.plans.result_file import result_file
from api.plans.schemas import PlanRead
from api.plans.service import PlanOptions, cut_short, get_plan, submit
from api.plans.states import PlanState
from api.plans.stream import EVENT_STREAM, follow, shown, wait_for_end
from api.store.documents import DocumentKind, get_document
from api.store.models import JobPlanRow, JobRow, PlanRow
from api.web.pages import PageSize, one_page
from api.web.preconditions import etag
from api.web.prefer import Preference, read_prefer
from api.web.replies import IdempotencyKey, Reply, digest, earlier_reply, keep_reply
from nesting.domain.request import Request as PlanRequest
from nesting.reports.papers import Paper
from nesting.units import Unit

router = APIRouter(prefix="/v1/plans", tags=["plans"])

PlanId = Annotated[str, Path(pattern="^[0-9a-f]{32}$", description="Id of the plan.")]
Priority = Annotated[int, Query(ge=-9, le=9, description="Higher ones are planned first.")]
Seed = Annotated[int, Query(ge=0, le=2**31 - 1, description="Same request and seed, same plan.")]
Seconds = Annotated[
    float | None, Query(gt=0, le=86_400, description="Search time; the service's own when left out.")
]
Alone = Annotated[
    bool, Query(description="Take no families, bars or offcuts from the service where the request has none.")
]
ListUnit = Annotated[
    Unit | None, Query(alias="list_unit", description="Unit of bare numbers in a workbook or CSV file.")
]
Prefer = Annotated[
    str | None, Header(description="wait=N: answer with the plan if it is done in N seconds (RFC 7240).")
]


@router.post("", status_code=202, responses=PLAN_REPLIES, openapi_extra=PLAN_BODY)
async def send_plan(
    request: Request,
    service: Running,
    caller: Planner,
    unit: UnitAsked = Unit.MM,
    priority: Priority = 0,
    seed: Seed = 0,
    seconds: Seconds = None,
    alone: Alone = False,
    list_unit: ListUnit = None,
    prefer: Prefer = None,
    idempotency_key: IdempotencyKey = None,
) -> JSONResponse:
    """
    Plan a request: a JSON document, a workbook, a CSV file, or a form with a file.

    Answers 202 with the plan in the queue, or, asked to wait, 201 with the plan itself. Whatever
    happens to this server or its workers afterwards, a plan that was answered for will be made.
    """
    body = await read_body(request)
    seconds = service.settings.plan_seconds if seconds is None else seconds
    options = PlanOptions(priority=priority, seed=seed, seconds=seconds)
    asked = digest("plan", body.media_type, body.data, body.catalogue, repr((options, alone, list_unit)))
    plan_id = await run_in_threadpool(_repeated, service, caller, idempotency_key, asked)
    if plan_id is None:
        wanted = await understand(body, service, alone=alone, unit=list_unit)
        plan_id = await run_in_threadpool(_accept, service, wanted, options, caller, idempotency_key, asked)
        service.poke()
    preference = read_prefer(prefer)
    waited = await wait_for_end(service, plan_id, preference.wait)
    return await run_in_threadpool(_answer, service, plan_id, unit, preference, waited)


def _repeated(service: Service, caller: Caller, key: str | None, asked: str) -> str | None:
    if key is None:
        return None
    with service.store.read() as session:
        earlier = earlier_reply(session, caller.id, key, asked)
        return str(earlier.body) if earlier else None


def _accept(
    service: Service,
    wanted: PlanRequest,
    options: PlanOptions,
    caller: Caller,
    key: str | None,
    asked: str,
) -> str:
    with service.store.write() as session:
        # Again inside the transaction: the same request may have come twice at once.
        if earlier := earlier_reply(session, caller.id, key, asked):
            return str(earlier.body)
        now = service.store.now(session)
        row = submit(session, wanted, options, caller, now, service.settings)
        keep_reply(session, caller.id, key, asked, Reply(202, row.id, f"/v1/plans/{row.id}"), now)
        return row.id


def _answer(
    service: Service, plan_id: str, unit: Unit, preference: Preference, waited: float
) -> JSONResponse:
    with service.store.read() as session:
        row = get_plan(session, plan_id)
        now = PlanRead.of(session, row, unit)
    headers = {"Location": f"/v1/plans/{plan_id}", "ETag": etag(row.version)}
    if preference.given:
        headers["Preference-Applied"] = preference.applied
    if now.state.to_do:
        headers["Retry-After"] = "1"
    return JSONResponse(now.model_dump(), 202 if now.state.to_do else 201, headers=headers)


@router.get("", response_model=list[PlanRead])
def list_plans(
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
    state: Annotated[list[PlanState] | None, Query(description="Only plans in these states.")] = None,
    job: Annotated[str | None, Query(max_length=200, description="Only plans with this job in.")] = None,
    after: Annotated[int | None, Query(ge=0, le=2**62, description="Cursor from the Link.")] = None,
    limit: PageSize = 50,
) -> list[PlanRead]:
    """List plans, latest first."""
    query = select(PlanRow).order_by(PlanRow.number.desc()).limit(limit + 1)
    if state:
        query = query.where(PlanRow.state.in_([s.value for s in state]))
    if job is not None:
        query = query.where(PlanRow.id.in_(select(JobPlanRow.plan_id).join(JobRow).where(JobRow.name == job)))
    if after is not None:
        query = query.where(PlanRow.number < after)
    with service.store.read() as session:
        rows = session.scalars(query).all()
        plans = PlanRead.all(session, rows, unit)
    last = str(rows[limit - 1].number) if len(rows) > limit else None
    return one_page(plans, limit, last, request, response)


@router.get("/{plan_id}", response_model=PlanRead)
def read_plan(
    plan_id: PlanId, response: Response, service: Running, caller: Reader, unit: UnitAsked = Unit.MM
) -> PlanRead:
    """Show how a plan stands and what it comes to."""
    with service.store.read() as session:
        row = get_plan(session, plan_id)
        read = PlanRead.of(session, row, unit)
    response.headers["ETag"] = etag(row.version)
    return read


@router.get(
    "/{plan_id}/progress",
    response_model=PlanRead,
    responses={200: {"content": {EVENT_STREAM: {"schema": {"type": "string"}}}}},
)
async def read_progress(
    plan_id: PlanId, request: Request, service: Running, caller: Reader, unit: UnitAsked = Unit.MM
) -> Any:
    """
    Show how the search stands: once as JSON, or as server-sent events until it ends.

    Each event is named ``plan`` and carries the plan as JSON; the last one has the final state.
    """
    wanted = best_type(request.headers.get("accept"), (JSON, EVENT_STREAM))
    now = await run_in_threadpool(shown, service, plan_id, unit)
    if wanted == JSON:
        return now
    return StreamingResponse(
        follow(service, plan_id, unit),
        media_type=EVENT_STREAM,
        headers={"X-Accel-Buffering": "no", "Cache-Control": "no-store"},
    )


@router.get("/{plan_id}/result", responses=RESULT_REPLIES, response_class=Response)
def read_result(
    plan_id: PlanId,
    request: Request,
    service: Running,
    caller: Reader,
    paper: Annotated[Paper, Query(description="Which document, when a PDF is asked for.")] = Paper.CUT_SHEETS,
    unit: Annotated[
        Unit | None, Query(description="Unit that leads on paper and drawing; the plan's own when left out.")
    ] = None,
) -> Response:
    """Fetch the whole plan: the JSON plan document, a workbook, paper, or a drawing of every bar."""
    wanted = best_type(request.headers.get("accept"), RESULT_TYPES)
    made = result_file(service, plan_id, wanted, paper, unit)
    headers = {"Vary": "Accept", "ETag": f'"{digest(made.body)[:32]}"'}
    if wanted != JSON:
        headers["Content-Disposition"] = f'attachment; filename="{made.name}"'
    return Response(made.body, media_type=wanted, headers=headers)


@router.get("/{plan_id}/request", responses={200: {"content": {JSON: {}}}}, response_class=Response)
def read_plan_request(plan_id: PlanId, service: Running, caller: Reader) -> Response:
    """Fetch what was asked for, as a JSON request document."""
    with service.store.read() as session:
        get_plan(session, plan_id)
        document = get_document(session, plan_id, DocumentKind.REQUEST)
    return Response(document, media_type=JSON)


@router.post("/{plan_id}/cancel", response_model=PlanRead)
def cancel(plan_id: PlanId, service: Running, caller: Planner, unit: UnitAsked = Unit.MM) -> PlanRead:
    """Cut the search short; the best plan so far is kept and proposed."""
    with service.store.write() as session:
        row = cut_short(session, plan_id, service.store.now(session))
        read = PlanRead.of(session, row, unit)
    service.poke()
    return read
