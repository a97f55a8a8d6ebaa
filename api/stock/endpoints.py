"""``/v1/stock``: whole bars on hand or to be had."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Annotated

from fastapi import APIRouter, Path, Query, Request, Response
from sqlalchemy import select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.deps import Admin, Reader, Running, Service, ShopHand, UnitAsked
from api.stock.currency import settle_currency
from api.stock.schemas import BarsCounted, BarsMoved, ShelfCorrect, ShelfCreate, ShelfRead, Terms
from api.stock.service import Shelved, change, find_shelf, get_shelf, new_shelf, shelved
from api.store.models import ShelfRow
from api.web.changing import change_once_seen
from api.web.pages import PageSize, one_page
from api.web.preconditions import IfMatch, etag
from api.web.problems import Problem
from api.web.replies import IdempotencyKey, Reply, digest, earlier_reply, keep_reply
from nesting.domain.material import Part
from nesting.stockroom import shelves
from nesting.stockroom.shelves import Shelf, ShelfMove
from nesting.units import Unit

router = APIRouter(prefix="/v1/stock", tags=["stock"])

ShelfId = Annotated[str, Path(pattern="^[0-9a-f]{32}$", description="Id of the shelf.")]


@router.get("", response_model=list[ShelfRead])
def list_stock(
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
    family: Annotated[str | None, Query(max_length=200)] = None,
    finish: Annotated[str | None, Query(max_length=200)] = None,
    part: Annotated[Part | None, Query()] = None,
    after: Annotated[str | None, Query(max_length=32, description="Cursor from the Link.")] = None,
    limit: PageSize = 100,
) -> list[ShelfRead]:
    """List the stock lengths and the bars there are of each."""
    query = select(ShelfRow).order_by(ShelfRow.id).limit(limit + 1)
    for column, wanted in (
        (ShelfRow.family, family),
        (ShelfRow.finish, finish),
        (ShelfRow.part, part.value if part else None),
    ):
        if wanted is not None:
            query = query.where(column == wanted)
    if after is not None:
        query = query.where(ShelfRow.id > after)
    with service.store.read() as session:
        found = shelved(session, session.scalars(query).all())
    last = found[limit - 1].row.id if len(found) > limit else None
    return [ShelfRead.of(one, unit) for one in one_page(found, limit, last, request, response)]


@router.post("", status_code=201, response_model=ShelfRead)
def create_stock(
    body: ShelfCreate,
    response: Response,
    service: Running,
    caller: ShopHand,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> ShelfRead:
    """Set up a shelf for a stock length, with the bars that stand there."""
    material = (body.family, body.finish, body.part, body.needed_length())
    asked = digest("stock", body.model_dump_json())
    with service.store.write() as session:
        if earlier := earlier_reply(session, caller.id, idempotency_key, asked):
            made = get_shelf(session, str(earlier.body))
        else:
            now = service.store.now(session)
            if find_shelf(session, material) is not None:
                raise Problem(409, "stock-exists", "There is a shelf for this stock length already.")
            made = new_shelf(session, material, None, orderable=body.orderable, now=now)
            body.put_into(made.row, Terms.model_fields)
            settle_currency(session)
            if body.on_hand:
                change(
                    session,
                    made,
                    lambda shelf: shelves.receive_bars(shelf, body.on_hand, reason="first count"),
                    caller.label,
                    now,
                )
            keep_reply(session, caller.id, idempotency_key, asked, Reply(201, made.row.id), now)
    response.headers["Location"] = f"/v1/stock/{made.row.id}"
    response.headers["ETag"] = etag(made.row.version)
    return ShelfRead.of(made, unit)


@router.get("/{shelf_id}", response_model=ShelfRead)
def read_stock(
    shelf_id: ShelfId, response: Response, service: Running, caller: Reader, unit: UnitAsked = Unit.MM
) -> ShelfRead:
    """Show a shelf."""
    with service.store.read() as session:
        found = get_shelf(session, shelf_id)
    response.headers["ETag"] = etag(found.row.version)
    return ShelfRead.of(found, unit)


@router.patch("/{shelf_id}", response_model=ShelfRead)
def correct_stock(
    shelf_id: ShelfId,
    body: ShelfCorrect,
    response: Response,
    service: Running,
    caller: Admin,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
) -> ShelfRead:
    """Change the price or the other terms, or whether more can be bought."""

    def correct(session: Session, found: Shelved, by: str, now: int) -> None:
        body.put_into(found.row, body.model_fields_set)
        settle_currency(session)
        found.row.version += 1
        found.row.changed_at = now
        session.flush()
        found.shelf = shelved(session, [found.row])[0].shelf

    found = change_once_seen(
        service,
        caller,
        response,
        if_match,
        find=lambda session: get_shelf(session, shelf_id, lock=True),
        do=correct,
    )
    return ShelfRead.of(found, unit)


@router.post("/{shelf_id}/count", response_model=ShelfRead)
def count_stock(
    shelf_id: ShelfId,
    body: BarsCounted,
    response: Response,
    service: Running,
    caller: ShopHand,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> ShelfRead:
    """Set the bars to what was counted; what plans have reserved stays reserved."""

    def act(shelf: Shelf) -> ShelfMove:
        return shelves.count_bars(shelf, body.bars, reason=body.reason)

    once = (idempotency_key, digest("count", shelf_id, body.model_dump_json()))
    return _act(shelf_id, act, if_match, response, service, caller, unit, once)


class BarAct(StrEnum):
    """What may happen to bars that no plan has."""

    RECEIVE = "receive"
    QUARANTINE = "quarantine"
    RESTORE = "restore"
    SCRAP = "scrap"


@router.post("/{shelf_id}/{act}", response_model=ShelfRead)
def move_stock(
    shelf_id: ShelfId,
    act: BarAct,
    body: BarsMoved,
    response: Response,
    service: Running,
    caller: ShopHand,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> ShelfRead:
    """Take delivered bars in, set free bars aside, put them back, or throw away what was set aside."""

    def do(shelf: Shelf) -> ShelfMove:
        if act is BarAct.RECEIVE:
            return shelves.receive_bars(shelf, body.bars, reason=body.reason)
        if act is BarAct.QUARANTINE:
            return shelves.quarantine_bars(shelf, body.bars, reason=body.reason)
        if act is BarAct.RESTORE:
            return shelves.restore_bars(shelf, body.bars, reason=body.reason)
        return shelves.scrap_bars(shelf, body.bars, reason=body.reason)

    # A delivery is an addition that cannot overwrite anybody's change, so it needs no If-Match.
    needed = act is not BarAct.RECEIVE
    once = (idempotency_key, digest(act.value, shelf_id, body.model_dump_json()))
    return _act(shelf_id, do, if_match, response, service, caller, unit, once, needed=needed)


def _act(
    shelf_id: str,
    act: Callable[[Shelf], ShelfMove],
    if_match: str | None,
    response: Response,
    service: Service,
    caller: Caller,
    unit: Unit,
    once: tuple[str | None, str],
    *,
    needed: bool = True,
) -> ShelfRead:
    found = change_once_seen(
        service,
        caller,
        response,
        if_match,
        find=lambda session: get_shelf(session, shelf_id, lock=True),
        do=lambda session, found, by, now: change(session, found, act, by, now),
        needed=needed,
        key=once[0],
        asked=once[1],
    )
    return ShelfRead.of(found, unit)
