"""The first page: a greeting on the first day, later what is to be done next; and the list of all plans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from sqlalchemy import select
from sqlalchemy.orm import Session

from api.pages.new.drafts import list_drafts
from api.pages.plan.head import replaced_words
from api.pages.visit import Visited
from api.plans.states import PlanState
from api.plans.succession import Relative, replaced_by
from api.store.models import PlanRow

A_PAGE = 50
_GROUP = 8
_NEXT = (
    ("Being planned", (PlanState.QUEUED, PlanState.SOLVING)),
    ("To be looked at and released", (PlanState.PROPOSED,)),
    ("In the shop", (PlanState.RELEASED, PlanState.IN_CUTTING)),
    ("Done with", (PlanState.FINISHED, PlanState.FAILED, PlanState.WITHDRAWN)),
)

router = APIRouter()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """
    A plan in a list.

    Parameters
    ----------
    cost, currency
        What its bars cost, in ten-thousandths; None when that is not known (yet).
    stands
        Its state, or what has taken its place.
    """

    id: str
    number: int
    title: str
    state: PlanState
    created_at: int
    created_by: str
    bars: int | None
    cost: int | None
    currency: str
    proved: bool
    stands: str

    @classmethod
    def of(cls, row: PlanRow, successor: Relative | None = None) -> PlanLine:
        """
        Give a plan's row as a line.

        Parameters
        ----------
        successor
            The plan that has taken its place.
        """
        summary = row.summary or {}
        return cls(
            id=row.id,
            number=row.number,
            title=row.title,
            state=PlanState(row.state),
            created_at=row.created_at,
            created_by=row.created_by,
            bars=summary.get("bars"),
            cost=summary.get("cost"),
            currency=summary.get("currency", ""),
            proved=bool(summary.get("proved")),
            stands=row.state if successor is None else replaced_words(successor.number),
        )


@dataclass(frozen=True, slots=True)
class PlanGroup:
    """Plans that wait for the same thing; ``more`` when there are others that are not listed."""

    name: str
    states: tuple[PlanState, ...]
    lines: tuple[PlanLine, ...]
    more: bool


@router.get("/")
def home(visit: Visited) -> HTMLResponse:
    """Greet, or show what is to be done next."""
    with visit.service.store.read() as session:
        groups = []
        for name, states in _NEXT:
            rows = session.scalars(
                select(PlanRow)
                .where(PlanRow.state.in_([state.value for state in states]))
                .order_by(PlanRow.number.desc())
                .limit(_GROUP + 1)
            ).all()
            if rows:
                groups.append(PlanGroup(name, states, _lines(session, rows[:_GROUP]), len(rows) > _GROUP))
        drafts = list_drafts(session, _GROUP)
    if not groups:
        return visit.page("greeting.html", drafts=drafts)
    return visit.page("home.html", groups=groups, drafts=drafts)


@router.get("/plans")
def list_plans(
    visit: Visited,
    state: Annotated[list[PlanState] | None, Query()] = None,
    after: Annotated[int | None, Query(ge=0, le=2**62)] = None,
) -> HTMLResponse:
    """List plans, latest first, a page at a time."""
    query = select(PlanRow).order_by(PlanRow.number.desc()).limit(A_PAGE + 1)
    if state:
        query = query.where(PlanRow.state.in_([one.value for one in state]))
    if after is not None:
        query = query.where(PlanRow.number < after)
    with visit.service.store.read() as session:
        rows = session.scalars(query).all()
        lines = _lines(session, rows[:A_PAGE])
    following = rows[A_PAGE - 1].number if len(rows) > A_PAGE else None
    return visit.page(
        "plans.html",
        lines=lines,
        chosen=state or [],
        states=list(PlanState),
        following=following,
        first=after is None,
    )


def _lines(session: Session, rows: Sequence[PlanRow]) -> tuple[PlanLine, ...]:
    taken = replaced_by(session, rows)
    return tuple(PlanLine.of(row, taken.get(row.id)) for row in rows)
