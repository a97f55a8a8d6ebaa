"""The first page: a greeting on the first day, later the latest plans."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from sqlalchemy import select

from api.pages.visit import Visited
from api.plans.schemas import PlanRead
from api.store.models import PlanRow
from nesting.units import Unit

SHOWN = 12

router = APIRouter()


@router.get("/")
def home(visit: Visited) -> HTMLResponse:
    """Show what there is to begin with."""
    with visit.service.store.read() as session:
        rows = session.scalars(select(PlanRow).order_by(PlanRow.number.desc()).limit(SHOWN)).all()
    plans = [PlanRead.of(row, Unit.MM) for row in rows]
    return visit.page("home.html", plans=plans)
