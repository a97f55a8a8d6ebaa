"""``/v1/jobs``: customer jobs, whichever plans they are in."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request, Response
from fastapi.concurrency import run_in_threadpool
from sqlalchemy import select

from api.access.keys import Caller
from api.deps import Planner, Reader, Running, Service, UnitAsked
from api.jobs.schemas import CollectedRead, JobRead, JobsPlan
from api.jobs.service import collect, plan_waiting, show_jobs
from api.plans.documentation import PLAN_BODY
from api.plans.endpoints import Alone, ListUnit, Priority, Seconds, Seed
from api.plans.intake import read_body, understand
from api.plans.schemas import PlanRead
from api.plans.service import PlanOptions, get_plan
from api.store.models import JobRow
from api.web.pages import PageSize, one_page
from api.web.problems import not_found
from api.web.replies import IdempotencyKey, Reply, digest, earlier_reply, keep_reply
from nesting.domain.request import Request as PlanRequest
from nesting.units import Unit

router = APIRouter(prefix="/v1/jobs", tags=["jobs"])


@router.get("", response_model=list[JobRead])
def list_jobs(
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
    name: Annotated[str | None, Query(max_length=200, description="Only the job of this name.")] = None,
    after: Annotated[str | None, Query(max_length=200, description="Cursor from the Link.")] = None,
    limit: PageSize = 50,
) -> list[JobRead]:
    """List the jobs in the order of their names."""
    query = select(JobRow).order_by(JobRow.name).limit(limit + 1)
    if name is not None:
        query = query.where(JobRow.name == name)
    if after is not None:
        query = query.where(JobRow.name > after)
    with service.store.read() as session:
        rows = session.scalars(query).all()
        last = rows[limit - 1].name if len(rows) > limit else None
        return show_jobs(session, one_page(rows, limit, last, request, response), unit)


@router.get("/{job_id}", response_model=JobRead)
def read_job(
    job_id: Annotated[str, Path(pattern="^[0-9a-f]{32}$", description="Id of the job.")],
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
) -> JobRead:
    """Show what a job costs, how much metal it takes and how far it is."""
    with service.store.read() as session:
        row = session.get(JobRow, job_id)
        if row is None:
            raise not_found(f"job {job_id}")
        return show_jobs(session, [row], unit)[0]


@router.post("", response_model=CollectedRead, openapi_extra=PLAN_BODY)
async def collect_lines(
    request: Request,
    service: Running,
    caller: Planner,
    unit: UnitAsked = Unit.MM,
    alone: Alone = False,
    list_unit: ListUnit = None,
) -> CollectedRead:
    """
    Keep the runs of a request, workbook or CSV file with their jobs, to be planned later.

    Lines are known by job and id: the same again changes nothing, a changed one replaces what was
    there unless a plan has it.
    """
    body = await read_body(request)
    wanted = await understand(body, service, alone=alone, unit=list_unit)
    return await run_in_threadpool(_collect, service, wanted, unit)


def _collect(service: Service, wanted: PlanRequest, unit: Unit) -> CollectedRead:
    with service.store.write() as session:
        outcome = collect(session, wanted, service.store.now(session))
        session.flush()
        rows = session.scalars(select(JobRow).where(JobRow.id.in_(outcome.jobs)).order_by(JobRow.name)).all()
        jobs = show_jobs(session, rows, unit)
    return CollectedRead(jobs=jobs, new=outcome.new, replaced=outcome.replaced, same=outcome.same)


@router.post("/plans", status_code=202, response_model=list[PlanRead])
def plan_jobs(
    wanted: JobsPlan,
    service: Running,
    caller: Planner,
    unit: UnitAsked = Unit.MM,
    priority: Priority = 0,
    seed: Seed = 0,
    seconds: Seconds = None,
    idempotency_key: IdempotencyKey = None,
) -> list[PlanRead]:
    """Plan what is waiting of some jobs, all together or each apart; answers with the new plans."""
    limit = service.settings.plan_seconds if seconds is None else seconds
    options = PlanOptions(priority=priority, seed=seed, seconds=limit)
    asked = digest("jobs", wanted.model_dump_json(), repr(options))
    plans = _plan(wanted, options, service, caller, idempotency_key, asked)
    service.poke()
    with service.store.read() as session:
        return PlanRead.all(session, [get_plan(session, plan) for plan in plans], unit)


def _plan(
    wanted: JobsPlan, options: PlanOptions, service: Service, caller: Caller, key: str | None, asked: str
) -> list[str]:
    with service.store.write() as session:
        if earlier := earlier_reply(session, caller.id, key, asked):
            return [str(plan) for plan in earlier.body]
        now = service.store.now(session)
        plans = plan_waiting(session, wanted, options, caller, now, service.settings)
        keep_reply(session, caller.id, key, asked, Reply(202, plans), now)
        return plans
