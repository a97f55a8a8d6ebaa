"""Taking plans in, looking them up, cutting their search short."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.plans.states import PlanState
from api.settings import Settings
from api.store.documents import DocumentKind, put_document
from api.store.ids import new_id
from api.store.models import PlanRow
from api.web.problems import Problem, not_found
from nesting.domain.request import Request
from nesting.exchange import write_request


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOptions:
    """How urgent a plan is, its seed and the seconds it may search."""

    priority: int = 0
    seed: int = 0
    seconds: float


def submit(
    session: Session,
    request: Request,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
    *,
    parent: str | None = None,
) -> PlanRow:
    """
    Put a request into the queue.

    Raises
    ------
    Problem
        When it asks for more than the service is set to do, or the queue is full.
    """
    pieces = sum(run.quantity for run in request.runs) + sum(line.quantity for line in request.piece_lines)
    if pieces > settings.max_pieces:
        detail = f"{pieces} runs and pieces are asked for; at most {settings.max_pieces} are planned at once."
        raise Problem(422, "too-many-pieces", detail)
    if not pieces:
        raise Problem(422, "nothing-to-make", "The request has neither runs nor pieces.")
    waiting = session.execute(
        select(func.count()).select_from(PlanRow).where(PlanRow.state == PlanState.QUEUED.value)
    ).scalar_one()
    if waiting >= settings.max_queue:
        detail = f"{waiting} plans are waiting; try again later."
        raise Problem(503, "queue-full", detail, headers={"Retry-After": "30"})
    row = PlanRow(
        id=new_id(),
        state=PlanState.QUEUED.value,
        title=request.title,
        priority=options.priority,
        seed=options.seed,
        seconds=min(options.seconds, settings.max_plan_seconds),
        parent=parent,
        created_at=now,
        created_by=caller.label,
        changed_at=now,
    )
    session.add(row)
    session.flush()
    put_document(session, row.id, DocumentKind.REQUEST, write_request(request))
    return row


def get_plan(session: Session, plan_id: str, *, lock: bool = False) -> PlanRow:
    """
    Give a plan's row.

    Raises
    ------
    Problem
        When there is no such plan.
    """
    query = select(PlanRow).where(PlanRow.id == plan_id)
    if lock:
        query = query.with_for_update().execution_options(populate_existing=True)
    row = session.execute(query).scalar_one_or_none()
    if row is None:
        raise not_found(f"plan {plan_id}")
    return row


def cut_short(session: Session, plan_id: str, now: int) -> PlanRow:
    """
    Ask for the best plan so far; a plan that is done already stays as it is.

    Raises
    ------
    Problem
        When there is no such plan.
    """
    row = get_plan(session, plan_id, lock=True)
    if PlanState(row.state).to_do and not row.cancel_asked:
        row.cancel_asked = True
        row.version += 1
        row.changed_at = now
    return row


def require_state(row: PlanRow, allowed: tuple[PlanState, ...], act: str) -> PlanState:
    """
    Make sure a plan is where an act needs it to be.

    Raises
    ------
    Problem
        When it is somewhere else.
    """
    state = PlanState(row.state)
    if state not in allowed:
        words = " or ".join(s.value for s in allowed)
        raise Problem(
            409, "wrong-state", f"The plan is {state.value}; only one that is {words} can be {act}."
        )
    return state
