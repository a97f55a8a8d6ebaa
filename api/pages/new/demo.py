"""The demo building, one click away."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form
from fastapi.responses import RedirectResponse

from api.access.keys import Scope
from api.catalogue.contents import Contents, contents
from api.catalogue.endpoints import take_in
from api.deps import Planner
from api.pages.new.drafts import keep_draft
from api.pages.new.start import start_draft
from api.pages.visit import Visited
from api.plans.intake import Body
from api.plans.render import XLSX
from api.processes.clerk_work import WriteDemo

NAME = "Orrelbeck Yard.xlsx"

router = APIRouter()


@router.post("/demo")
def plan_demo(visit: Visited, caller: Planner, look: Annotated[str, Form()] = "") -> RedirectResponse:
    """
    Take the demo building's list and plan it at once, or show first how it is read.

    Where the service has no families, bars or offcuts of its own yet, those of the demo come with it,
    so that its plan can be released and sawn too.
    """
    service, store = visit.service, visit.service.store
    workbook = service.clerks.ask(WriteDemo())
    assert isinstance(workbook, bytes)
    with store.read() as session:
        bare = contents(session) == Contents()
    if bare and visit.may(Scope.ADMIN):
        take_in(Body(XLSX, workbook, NAME), service, caller)
    with store.write() as session:
        draft_id = keep_draft(session, NAME, workbook, caller, store.now(session))
    if look:
        return RedirectResponse(f"/drafts/{draft_id}", 303)
    return RedirectResponse(f"/plans/{start_draft(service, draft_id, caller)}", 303)
