"""Cutting a search short."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import RedirectResponse

from api.deps import Planner
from api.pages.visit import Visited
from api.plans.endpoints import PlanId
from api.plans.service import cut_short

router = APIRouter()


@router.post("/plans/{plan_id}/stop")
def stop(plan_id: PlanId, visit: Visited, caller: Planner) -> RedirectResponse:
    """Cut the search short; the best plan so far is kept."""
    store = visit.service.store
    with store.write() as session:
        cut_short(session, plan_id, store.now(session))
    visit.service.poke()
    return RedirectResponse(f"/plans/{plan_id}", 303)
