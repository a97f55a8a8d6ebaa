"""``/v1/events``: every movement of stock, in order, for ever."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request, Response
from sqlalchemy import select

from api.deps import Reader, Running, UnitAsked
from api.events.balance import balance_now
from api.events.schemas import BalanceRead, EventRead
from api.store.models import LedgerRow
from api.web.pages import PageSize, one_page
from nesting.stockroom.ledger import Kind
from nesting.units import Unit

router = APIRouter(prefix="/v1/events", tags=["events"])


@router.get("", response_model=list[EventRead])
def list_events(
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
    thing: Annotated[str | None, Query(max_length=500, description="Tag or shelf.")] = None,
    plan: Annotated[str | None, Query(max_length=32, description="Id of a plan.")] = None,
    kind: Annotated[list[Kind] | None, Query(description="Only these kinds.")] = None,
    after: Annotated[int | None, Query(ge=0, le=2**62, description="Only events after this one.")] = None,
    limit: PageSize = 100,
) -> list[EventRead]:
    """List movements, oldest first; ask again with ``after`` to hear of new ones."""
    query = select(LedgerRow).order_by(LedgerRow.id).limit(limit + 1)
    if thing is not None:
        query = query.where(LedgerRow.thing == thing)
    if plan is not None:
        query = query.where(LedgerRow.plan_id == plan)
    if kind:
        query = query.where(LedgerRow.kind.in_([one.value for one in kind]))
    if after is not None:
        query = query.where(LedgerRow.id > after)
    with service.store.read() as session:
        rows = session.scalars(query).all()
    last = str(rows[limit - 1].id) if len(rows) > limit else None
    return [EventRead.of(row, unit) for row in one_page(rows, limit, last, request, response)]


@router.get("/balance", response_model=BalanceRead)
def read_balance(service: Running, caller: Reader, unit: UnitAsked = Unit.MM) -> BalanceRead:
    """Add the whole ledger up and hold it against shelves and rack."""
    with service.store.read_one_moment() as session:
        return balance_now(session, unit)
