"""``/v1/offcuts``: the rack."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum
from typing import Annotated

from fastapi import APIRouter, Path, Query, Request, Response
from sqlalchemy import select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.deps import Reader, Running, Service, ShopHand, UnitAsked
from api.offcuts.schemas import (
    TAG_PATTERN,
    OffcutCorrect,
    OffcutCount,
    OffcutCreate,
    OffcutFind,
    OffcutRead,
)
from api.offcuts.service import change, get_offcut, receive, require_past, tagged_of
from api.store.models import OffcutRow
from api.web.changing import change_once_seen
from api.web.inputs import WithReason
from api.web.pages import PageSize, one_page
from api.web.preconditions import IfMatch, etag
from api.web.replies import IdempotencyKey, Reply, digest, earlier_reply, keep_reply
from nesting.domain.material import Part
from nesting.money import read_money
from nesting.stockroom import rack
from nesting.stockroom.rack import Move, Tagged
from nesting.stockroom.states import State
from nesting.units import Unit

router = APIRouter(prefix="/v1/offcuts", tags=["offcuts"])

TagPath = Annotated[str, Path(pattern=TAG_PATTERN, description="Tag of the offcut.", examples=["FL-407"])]


@router.get("", response_model=list[OffcutRead])
def list_offcuts(
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    unit: UnitAsked = Unit.MM,
    state: Annotated[list[State] | None, Query(description="Only offcuts in these states.")] = None,
    family: Annotated[str | None, Query(max_length=200)] = None,
    finish: Annotated[str | None, Query(max_length=200)] = None,
    part: Annotated[Part | None, Query()] = None,
    plan: Annotated[str | None, Query(max_length=32, description="Reserved or cut by this plan.")] = None,
    shortest: Annotated[
        int | None, Query(ge=0, le=2**62, description="At least so long, nanometres.")
    ] = None,
    after: Annotated[str | None, Query(max_length=64, description="Cursor from the Link.")] = None,
    limit: PageSize = 100,
) -> list[OffcutRead]:
    """List offcuts in the order of their tags."""
    query = select(OffcutRow).order_by(OffcutRow.tag).limit(limit + 1)
    if state:
        query = query.where(OffcutRow.state.in_([one.value for one in state]))
    for column, wanted in (
        (OffcutRow.family, family),
        (OffcutRow.finish, finish),
        (OffcutRow.part, part.value if part else None),
        (OffcutRow.plan_id, plan),
    ):
        if wanted is not None:
            query = query.where(column == wanted)
    if shortest is not None:
        query = query.where(OffcutRow.length >= shortest)
    if after is not None:
        query = query.where(OffcutRow.tag > after)
    with service.store.read() as session:
        rows = session.scalars(query).all()
    last = rows[limit - 1].tag if len(rows) > limit else None
    return [OffcutRead.of(row, unit) for row in one_page(rows, limit, last, request, response)]


@router.post("", status_code=201, response_model=OffcutRead)
def create_offcut(
    offcut: OffcutCreate,
    response: Response,
    service: Running,
    caller: ShopHand,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> OffcutRead:
    """Put a measured offcut on the rack under a tag that was never used before."""
    asked = digest("offcut", offcut.model_dump_json())
    with service.store.write() as session:
        if earlier_reply(session, caller.id, idempotency_key, asked):
            row = get_offcut(session, offcut.tag)
        else:
            now = service.store.now(session)
            row = receive(session, offcut.to_domain(), offcut.reason, caller.label, now)
            keep_reply(session, caller.id, idempotency_key, asked, Reply(201, row.tag), now)
    response.headers["Location"] = f"/v1/offcuts/{row.tag}"
    response.headers["ETag"] = etag(row.version)
    return OffcutRead.of(row, unit)


@router.get("/{tag}", response_model=OffcutRead)
def read_offcut(
    tag: TagPath, response: Response, service: Running, caller: Reader, unit: UnitAsked = Unit.MM
) -> OffcutRead:
    """Show an offcut, also one that is long gone."""
    with service.store.read() as session:
        row = get_offcut(session, tag)
    response.headers["ETag"] = etag(row.version)
    return OffcutRead.of(row, unit)


@router.patch("/{tag}", response_model=OffcutRead)
def correct_offcut(
    tag: TagPath,
    correction: OffcutCorrect,
    response: Response,
    service: Running,
    caller: ShopHand,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
) -> OffcutRead:
    """Put right what is written of an offcut; the ledger keeps the reason."""
    given = correction.model_dump(exclude={"reason", "length", "length_nm", "value"}, exclude_none=True)
    if correction.value is not None:
        given["value"] = read_money(correction.value)
    length = correction.given_length()

    def correct(session: Session, row: OffcutRow, by: str, now: int) -> None:
        require_past(tag, correction.born or "", now)
        corrected = replace(tagged_of(row).offcut, **given)
        if given:
            change(session, row, lambda t: rack.correct(t, corrected, reason=correction.reason), by, now)
        if length is not None and length != row.length:
            change(session, row, lambda t: rack.measure(t, length, reason=correction.reason), by, now)

    row = change_once_seen(
        service,
        caller,
        response,
        if_match,
        find=lambda session: get_offcut(session, tag, lock=True),
        do=correct,
    )
    return OffcutRead.of(row, unit)


@router.post("/{tag}/count", response_model=OffcutRead)
def count_offcut(
    tag: TagPath,
    counted: OffcutCount,
    response: Response,
    service: Running,
    caller: ShopHand,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> OffcutRead:
    """Note that an offcut was seen and how long the tape says it is."""
    length = counted.needed_length()

    def act(tagged: Tagged) -> Move:
        if length == tagged.offcut.length and tagged.state.held:
            return rack.seen(tagged, reason=counted.reason)
        return rack.measure(tagged, length, reason=counted.reason)

    once = (idempotency_key, digest("count", tag, counted.model_dump_json()))
    return _act(tag, act, if_match, response, service, caller, unit, once)


@router.post("/{tag}/find", response_model=OffcutRead)
def find_offcut(
    tag: TagPath,
    found: OffcutFind,
    response: Response,
    service: Running,
    caller: ShopHand,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> OffcutRead:
    """Put a lost offcut back on the rack with the length it has now."""
    length = found.needed_length()

    def act(tagged: Tagged) -> Move:
        return rack.find(tagged, length, reason=found.reason)

    once = (idempotency_key, digest("find", tag, found.model_dump_json()))
    return _act(tag, act, if_match, response, service, caller, unit, once)


class SetAside(StrEnum):
    """What may happen to an offcut that no plan has."""

    QUARANTINE = "quarantine"
    RESTORE = "restore"
    SCRAP = "scrap"
    LOSE = "lose"


_ACTS = {
    SetAside.QUARANTINE: rack.quarantine,
    SetAside.RESTORE: rack.restore,
    SetAside.SCRAP: rack.scrap,
    SetAside.LOSE: rack.lose,
}


@router.post("/{tag}/{act}", response_model=OffcutRead)
def set_aside(
    tag: TagPath,
    act: SetAside,
    why: WithReason,
    response: Response,
    service: Running,
    caller: ShopHand,
    if_match: IfMatch = None,
    unit: UnitAsked = Unit.MM,
    idempotency_key: IdempotencyKey = None,
) -> OffcutRead:
    """
    Quarantine an offcut (a scratch), restore it, scrap it, or note that it is lost.

    One that a plan has reserved is reported at that plan's bar instead.
    """

    def do(tagged: Tagged) -> Move:
        return _ACTS[act](tagged, reason=why.reason)

    once = (idempotency_key, digest(act.value, tag, why.model_dump_json()))
    return _act(tag, do, if_match, response, service, caller, unit, once)


def _act(
    tag: str,
    act: Callable[[Tagged], Move],
    if_match: str | None,
    response: Response,
    service: Service,
    caller: Caller,
    unit: Unit,
    once: tuple[str | None, str],
) -> OffcutRead:
    row = change_once_seen(
        service,
        caller,
        response,
        if_match,
        find=lambda session: get_offcut(session, tag, lock=True),
        do=lambda session, row, by, now: change(session, row, act, by, now),
        key=once[0],
        asked=once[1],
    )
    return OffcutRead.of(row, unit)
