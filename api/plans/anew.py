"""Planning all of a plan once more on what is free now: for one whose stock somebody else has taken."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import update
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.catalogue.contents import Contents, contents, narrowed
from api.plans.replan import any_cut, go_on, result_of, take_waiting_lines, withdraw
from api.plans.service import PlanOptions, get_plan, require_state, submit
from api.plans.shop_report import what_the_shop_said
from api.plans.states import PlanState
from api.processes.follow import Follow, read_follow
from api.settings import Settings
from api.store.documents import DocumentKind, get_document
from api.store.models import JobLineRow, PlanRow
from nesting.domain.request import Request
from nesting.exchange import read_request

NEVER_AT_THE_SAW = (PlanState.PROPOSED, PlanState.FAILED, PlanState.WITHDRAWN)
"""States in which nobody cuts by a plan."""


def plan_anew(
    session: Session,
    plan_id: str,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
    *,
    reason: str = "",
    freely: bool = False,
) -> PlanRow:
    """
    Put a plan's own request into the queue again with the offcuts and bars that are free now; give that plan.

    What was cut of it, or of the plans before it, stays cut and is not asked for again.

    A proposed plan is withdrawn in the same moment, so that not both can be released.

    Parameters
    ----------
    reason
        Kept with the plan that is given up.
    freely
        Where it goes on from a plan that was cut: whether all open bars may be planned afresh where that
        costs less.

    Raises
    ------
    Problem
        When the plan is on its way, or bars of it may have been cut: those are planned again bar by bar.
    """
    row = get_plan(session, plan_id, lock=True)
    state = require_state(row, NEVER_AT_THE_SAW, "planned anew")
    follow = _goes_on(session, row)
    if follow is not None:
        if state is PlanState.PROPOSED:
            withdraw(session, plan_id, caller, now, reason=reason)
        return go_on(session, replace(follow, freely=freely), options, caller, now, settings, parent=plan_id)
    document = get_document(session, plan_id, DocumentKind.REQUEST)
    assert document is not None, plan_id
    lines = update(JobLineRow).where(JobLineRow.plan_id == plan_id)
    request = on_what_is_free(read_request(document, source="request"), contents(session))
    made = submit(session, request, options, caller, now, settings, parent=plan_id)
    session.flush()
    session.execute(lines.values(plan_id=made.id))
    take_waiting_lines(session, request, made.id)
    if state is PlanState.PROPOSED:
        withdraw(session, plan_id, caller, now, reason=reason)
    return made


def _goes_on(session: Session, row: PlanRow) -> Follow | None:
    """Give what a plan has to go on from, so that nothing cut of it is cut again; None when nothing was."""
    if any_cut(session, row.id):
        return what_the_shop_said(session, row.id, result_of(session, row.id))
    document = get_document(session, row.id, DocumentKind.FOLLOWS)
    return read_follow(document) if document else None


def on_what_is_free(request: Request, have: Contents) -> Request:
    """Give the request with the rack's free offcuts, and the bars of each length that are there now."""
    shelves = {(line.family, line.finish, line.part, line.length): line for line in have.stock}
    stock = []
    for line in request.stock:
        now = shelves.get((line.family, line.finish, line.part, line.length))
        stock.append(line if now is None else replace(line, count=now.count, on_hand=now.on_hand))
    return narrowed(replace(request, stock=tuple(stock), offcuts=have.offcuts, findings=()))
