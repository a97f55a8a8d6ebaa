"""``/jobs``: every job, and each across all its plans."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request, Response
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy import select

from api.access.keys import Caller
from api.deps import Planner
from api.jobs.schemas import JobsPlan
from api.jobs.service import plan_waiting
from api.pages.jobs.list_view import list_jobs
from api.pages.jobs.view import show_job
from api.pages.visit import Visit, Visited
from api.plans.service import PlanOptions
from api.store.models import JobRow
from api.web.problems import Problem, not_found
from nesting.errors import InputRefused

router = APIRouter(prefix="/jobs")

JobPath = Annotated[str, Path(pattern="^[0-9a-f]{32}$")]
Text = Annotated[str, Query(max_length=200)]


@router.get("")
def show_list(
    visit: Visited, name: Text = "", page: Annotated[int, Query(ge=1, le=100_000)] = 1
) -> HTMLResponse:
    """Show all jobs."""
    return _list(visit, name.strip(), page)


def _list(visit: Visit, name: str, page: int, *, fault: str = "", status: int = 200) -> HTMLResponse:
    with visit.service.store.read() as session:
        jobs = list_jobs(session, visit.lengths, name=name, page=page)
    return visit.page("jobs/list.html", status, jobs=jobs, name=name, fault=fault)


@router.get("/by-name")
def find_by_name(visit: Visited, name: Text) -> RedirectResponse:
    """Lead to the job of a name, for pages that know no more of it."""
    with visit.service.store.read() as session:
        job = session.execute(select(JobRow.id).where(JobRow.name == name)).scalar_one_or_none()
    if job is None:
        raise not_found(f"job {name}")
    return RedirectResponse(f"/jobs/{job}", 303)


@router.post("")
async def plan_jobs(request: Request, visit: Visited, caller: Planner) -> Response:
    """Plan together what is waiting of the jobs that are ticked."""
    async with request.form(max_files=0) as form:
        ticked = [value for value in form.getlist("job") if isinstance(value, str)]
    return await run_in_threadpool(_plan, visit, caller, ticked)


def _plan(visit: Visit, caller: Caller, ticked: list[str]) -> Response:
    service = visit.service
    if not ticked:
        return _list(visit, "", 1, fault="Tick the jobs that are to be planned together.", status=422)
    try:
        with service.store.write() as session:
            options = PlanOptions(seconds=service.settings.plan_seconds)
            now = service.store.now(session)
            plans = plan_waiting(session, JobsPlan(jobs=ticked), options, caller, now, service.settings)
    except InputRefused as why:
        said = " ".join(finding.message for finding in why.findings[:5])
        return _list(visit, "", 1, fault=said, status=422)
    except Problem as why:
        return _list(visit, "", 1, fault=why.detail, status=why.status)
    service.poke()
    return RedirectResponse(f"/plans/{plans[0]}", 303)


@router.get("/{job_id}")
def show_one(
    job_id: JobPath,
    visit: Visited,
    building: Text | None = None,
    floor: Text | None = None,
    unit: Text | None = None,
) -> HTMLResponse:
    """Show one job: what is complete, what is missing, what it costs."""
    store = visit.service.store
    with store.read() as session:
        row = session.get(JobRow, job_id)
        if row is None:
            raise not_found(f"job {job_id}")
        job = show_job(session, store, row, visit.lengths, building=building, floor=floor, unit=unit)
    return visit.page("jobs/job.html", job=job, building=building, floor=floor, unit=unit)
