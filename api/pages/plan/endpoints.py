"""``/plans/{id}``: a plan to look at, its runs, its comparison, its files."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Query, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from api.access.keys import Scope
from api.pages.plan.choice import Choice, choice_words, filters
from api.pages.plan.compare import compared_view
from api.pages.plan.files import FileKind
from api.pages.plan.growth import growth_words
from api.pages.plan.head import head_of
from api.pages.plan.page import page_numbers, plan_page, reader_lengths
from api.pages.plan.runs import runs_page
from api.pages.results import result_of
from api.pages.visit import Visit, Visited
from api.plans.comparing import comparison_of, growth_of
from api.plans.endpoints import PlanId
from api.plans.render import PDF
from api.plans.result_file import result_file
from api.web.problems import Problem
from nesting.domain.plan import Plan

router = APIRouter(prefix="/plans/{plan_id}")

Text = Annotated[str, Query(max_length=200)]
PageNumber = Annotated[int, Query(ge=1, le=100_000)]
COMPARE_SECONDS = (60, 300, 600)


@router.get("")
def show_plan(
    plan_id: PlanId,
    visit: Visited,
    job: Text = "",
    building: Text = "",
    floor: Text = "",
    unit: Text = "",
    material: Text = "",
    run: Text = "",
    piece: Text = "",
    bar: Annotated[int, Query(ge=0, le=2**31 - 1)] = 0,
    page: PageNumber = 1,
) -> HTMLResponse:
    """Show a plan: the answer, its figures, what may be done, and its bars."""
    choice = Choice(
        job=job,
        building=building,
        floor=floor,
        unit=unit,
        material=material,
        run=run,
        piece=piece,
        bar=bar,
        page=page,
    )
    return plan_page(visit, plan_id, choice)


@router.get("/runs")
def show_runs(
    plan_id: PlanId,
    visit: Visited,
    job: Text = "",
    building: Text = "",
    floor: Text = "",
    unit: Text = "",
    material: Text = "",
    run: Text = "",
    page: PageNumber = 1,
) -> HTMLResponse:
    """Show the runs of a plan, each with its pieces and their bars."""
    plan = _result(visit, plan_id)
    choice = Choice(job=job, building=building, floor=floor, unit=unit, material=material, run=run, page=page)
    with visit.service.store.read() as session:
        head = head_of(session, plan_id)
    lengths = reader_lengths(visit, plan)
    runs = runs_page(plan, choice, lengths, head.again)
    return visit.page(
        "plan/runs.html",
        head=head,
        tab="runs",
        lengths=lengths,
        choice=choice,
        chosen=choice_words(choice),
        filters=filters(plan, choice),
        runs=runs,
        pages=page_numbers(runs.page, runs.pages),
    )


@router.get("/compare")
def show_comparison(plan_id: PlanId, visit: Visited) -> HTMLResponse:
    """Show what else could be bought, and what ordering in parts costs, as far as it has been compared."""
    service = visit.service
    plan = _result(visit, plan_id)
    with service.store.read() as session:
        head = head_of(session, plan_id)
    made = comparison_of(service.store, plan_id)
    lengths = reader_lengths(visit, plan)
    return visit.page(
        "plan/compare.html",
        head=head,
        tab="compare",
        lengths=lengths,
        compared=compared_view(made, lengths) if made else None,
        growth=tuple(growth_words(plan, growth_of(service.store, plan_id), lengths)),
        progress=service.comparisons.progress(plan_id),
        fault=service.comparisons.fault(plan_id),
        seconds=COMPARE_SECONDS,
    )


@router.post("/compare")
def start_comparison(
    plan_id: PlanId, visit: Visited, seconds: Annotated[int, Form(ge=1, le=600)] = COMPARE_SECONDS[0]
) -> RedirectResponse:
    """Have it compared beside the server."""
    require(visit, Scope.PLAN)
    visit.service.comparisons.ask(plan_id, seconds)
    return RedirectResponse(f"/plans/{plan_id}/compare", 303)


@router.get("/files/{kind}", response_class=Response)
def take_file(plan_id: PlanId, kind: FileKind, visit: Visited) -> Response:
    """Give one of a plan's files; papers open in the browser, so that they can be printed at once."""
    unit = reader_lengths(visit, _result(visit, plan_id)).unit
    made = result_file(visit.service, plan_id, kind.media_type, kind.paper, unit)
    how = "inline" if made.media_type == PDF else "attachment"
    headers = {"Content-Disposition": f'{how}; filename="{made.name}"', "Cache-Control": "no-store"}
    return Response(made.body, media_type=made.media_type, headers=headers)


def require(visit: Visit, scope: Scope) -> None:
    """
    Make sure that whoever visits may do something.

    Raises
    ------
    Problem
        When the key in use lacks the scope.
    """
    if not visit.may(scope):
        raise Problem(403, "scope-missing", f"This key lacks the scope {scope.value!r}.")


def _result(visit: Visit, plan_id: str) -> Plan:
    plan = result_of(visit.service.store, plan_id)
    if plan is None:
        with visit.service.store.read() as session:
            head = head_of(session, plan_id)
        raise Problem(409, "no-result", head.fault or f"The plan is {head.state}; there is no result yet.")
    return plan
