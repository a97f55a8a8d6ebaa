"""Planning all of a plan once more on what is free now: for one whose stock somebody else has taken."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import update
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.catalogue.contents import Contents, contents, narrowed
from api.plans.replan import withdraw
from api.plans.service import PlanOptions, get_plan, require_state, submit
from api.plans.states import PlanState
from api.settings import Settings
from api.store.documents import DocumentKind, get_document
from api.store.models import JobLineRow, PlanRow
from nesting.domain.request import Request
from nesting.exchange import read_request


def plan_anew(
    session: Session,
    plan_id: str,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
    *,
    reason: str = "",
) -> PlanRow:
    """
    Put a plan's own request into the queue again with the offcuts and bars that are free now; give that plan.

    A proposed plan is withdrawn in the same moment, so that not both can be released.

    Raises
    ------
    Problem
        When the plan is on its way, or bars of it may have been cut: those are planned again bar by bar.
    """
    row = get_plan(session, plan_id, lock=True)
    allowed = (PlanState.PROPOSED, PlanState.FAILED, PlanState.WITHDRAWN)
    state = require_state(row, allowed, "planned anew")
    document = get_document(session, plan_id, DocumentKind.REQUEST)
    assert document is not None, plan_id
    lines = update(JobLineRow).where(JobLineRow.plan_id == plan_id)
    request = on_what_is_free(read_request(document, source="request"), contents(session))
    made = submit(session, request, options, caller, now, settings, parent=plan_id)
    session.flush()
    session.execute(lines.values(plan_id=made.id))
    if state is PlanState.PROPOSED:
        withdraw(session, plan_id, caller, now, reason=reason)
    return made


def on_what_is_free(request: Request, have: Contents) -> Request:
    """Give the request with the rack's free offcuts, and no more bars of a length than there are."""
    counts = {(line.family, line.finish, line.part, line.length): line.count for line in have.stock}
    stock = tuple(
        replace(line, count=counts.get((line.family, line.finish, line.part, line.length), line.count))
        for line in request.stock
    )
    return narrowed(replace(request, stock=stock, offcuts=have.offcuts, findings=()))
