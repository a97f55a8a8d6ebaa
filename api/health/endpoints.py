"""``/healthz``, ``/readyz`` and ``/metrics``, for whoever watches over the service."""

from __future__ import annotations

from collections.abc import Iterable

from fastapi import APIRouter, Response
from fastapi.responses import JSONResponse
from sqlalchemy import func, select
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.orm import Session

from api.deps import Reader, Running
from api.plans.states import PlanState
from api.store.migrate import is_current
from api.store.models import OffcutRow, PlanRow
from api.web.metrics import gauge
from api.worker.presence import count_alive
from nesting.stockroom.states import State

router = APIRouter(tags=["health"])


@router.get("/healthz")
def alive() -> dict[str, str]:
    """Say that the process answers."""
    return {"status": "alive"}


@router.get("/readyz", responses={503: {"description": "Not ready, and why."}})
def ready(service: Running) -> JSONResponse:
    """Say whether plans would be taken and made: database there and up to date, a worker alive."""
    checks = {"database": "ready", "worker": "ready"}
    try:
        if not is_current(service.store):
            checks["database"] = "of another version"
        with service.store.read() as session:
            now = service.store.now(session)
            if not count_alive(session, now, 2 * service.settings.lease_seconds):
                checks["worker"] = "none has been heard of lately"
    except SQLAlchemyError:
        checks = {"database": "does not answer", "worker": "unknown"}
    fine = all(value == "ready" for value in checks.values())
    return JSONResponse(checks, 200 if fine else 503)


@router.get("/metrics", response_class=Response)
def metrics(service: Running, caller: Reader) -> Response:
    """Give counts in the Prometheus text format."""
    with service.store.read() as session:
        now = service.store.now(session)
        lines = [
            *service.metrics.lines(),
            *gauge("nesting_plans", "Plans by state.", _plans(session)),
            *gauge("nesting_offcuts", "Offcuts by state.", _offcuts(session)),
            *gauge(
                "nesting_workers",
                "Workers heard of lately.",
                [("", count_alive(session, now, 2 * service.settings.lease_seconds))],
            ),
        ]
    return Response("\n".join(lines) + "\n", media_type="text/plain; version=0.0.4; charset=utf-8")


def _plans(session: Session) -> Iterable[tuple[str, int]]:
    counted = dict(iter(session.execute(select(PlanRow.state, func.count()).group_by(PlanRow.state))))
    return [(f'state="{state.value}"', counted.get(state.value, 0)) for state in PlanState]


def _offcuts(session: Session) -> Iterable[tuple[str, int]]:
    counted = dict(iter(session.execute(select(OffcutRow.state, func.count()).group_by(OffcutRow.state))))
    return [(f'state="{state.value}"', counted.get(state.value, 0)) for state in State]
