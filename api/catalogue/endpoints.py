"""``/v1/catalogue``: families, stock and rack as one workbook, in and out."""

from __future__ import annotations

import re
from dataclasses import replace

from fastapi import APIRouter, Request, Response
from fastapi.concurrency import run_in_threadpool
from pydantic import BaseModel, Field
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.catalogue.contents import Contents, contents, shelves_in_order
from api.deps import Admin, Reader, Running, Service
from api.families.endpoints import store_family
from api.offcuts.schemas import TAG_PATTERN
from api.offcuts.service import known_offcuts, receive
from api.plans.intake import Body, read_body
from api.plans.render import CSV, JSON, XLSX
from api.processes.clerk_work import ReadCatalogue, WriteCatalogue
from api.processes.record import finding_record
from api.stock.currency import settle_currency
from api.stock.service import change, find_shelf, new_shelf, shelved
from api.stock.terms import keep_terms, stock_line
from api.web.problems import FindingRead, Problem
from nesting.domain.stock import StockLine
from nesting.errors import Finding, InputRefused, Severity
from nesting.money import Money
from nesting.stockroom.shelves import count_bars

router = APIRouter(prefix="/v1/catalogue", tags=["catalogue"])

_BINARY = {"type": "string", "format": "binary"}
_SENT = {
    "requestBody": {
        "required": True,
        "content": {
            XLSX: {"schema": _BINARY},
            CSV: {
                "schema": {"type": "string"},
                "example": "Tag,Family,Finish,Length\nFL-407,TOLV-17N,natural,1822 mm\n",
            },
            "multipart/form-data": {
                "schema": {"type": "object", "required": ["file"], "properties": {"file": _BINARY}}
            },
        },
    }
}


class ImportRead(BaseModel):
    """What came in with a workbook."""

    families: int = Field(description="Families described.")
    stock: int = Field(description="Stock lengths, new or with a new price or count.")
    offcuts: int = Field(description="Offcuts that are new on the rack.")
    known: list[str] = Field(description="Tags that were known already and stay as they are.")
    notes: list[FindingRead] = Field(
        default=[], description="What the file says besides and is not kept, such as a Saw sheet."
    )


@router.get("", response_class=Response, responses={200: {"content": {XLSX: {"schema": _BINARY}}}})
def export_catalogue(service: Running, caller: Reader) -> Response:
    """
    Fetch families, bars and free offcuts as an input workbook that reads back as the same.

    On hand are all bars that stand there, also those that plans have reserved: it is a stock list.
    """
    with service.store.read() as session:
        shelves = shelved(session, shelves_in_order(session))
        counted = tuple(stock_line(one.row, one.shelf.on_hand) for one in shelves)
        have = replace(contents(session), stock=counted)
    body = service.clerks.ask(WriteCatalogue(have))
    headers = {"Content-Disposition": 'attachment; filename="stock.xlsx"'}
    return Response(body, media_type=XLSX, headers=headers)


@router.post("", response_model=ImportRead, openapi_extra=_SENT)
async def import_catalogue(request: Request, service: Running, caller: Admin) -> ImportRead:
    """
    Take in the sheets Families, Stock and Offcuts of a workbook, or a CSV file that is one of them.

    All of it or nothing. Families, prices and terms replace what was there; bars on hand in the sheet
    Stock set the bars. A count without bars on hand sets them too, and says that no more can be bought;
    with bars on hand it says how many can be had in all. A tag that is known already stays as it is.
    What the file says besides, such as a saw's allowances, is not kept; notes in the answer say so.
    """
    body = await read_body(request)
    if body.media_type == JSON:
        raise Problem(415, "unsupported-media-type", f"Send {XLSX} or {CSV}.")
    return await run_in_threadpool(take_in, body, service, caller)


def take_in(body: Body, service: Service, caller: Caller) -> ImportRead:
    """
    Take in the families, bars and offcuts of a workbook or CSV file.

    Raises
    ------
    InputRefused
        When anything in it must be settled first.
    """
    read = service.clerks.ask(ReadCatalogue(body.name, body.data))
    assert isinstance(read, Contents)
    _require_tags(read)
    with service.store.write() as session:
        now = service.store.now(session)
        for family in read.families:
            store_family(session, family, now)
        for line in read.stock:
            _store_line(session, line, read.currency, caller, now)
        settle_currency(session)
        there = known_offcuts(session, (offcut.tag for offcut in read.offcuts))
        known = [offcut.tag for offcut in read.offcuts if offcut.tag in there]
        for offcut in read.offcuts:
            if offcut.tag not in there:
                receive(session, offcut, "import", caller.label, now)
    return ImportRead(
        families=len(read.families),
        stock=len(read.stock),
        offcuts=len(read.offcuts) - len(known),
        known=known,
        notes=[FindingRead.model_validate(finding_record(one)) for one in read.notes],
    )


def _require_tags(read: Contents) -> None:
    strange = [offcut for offcut in read.offcuts if not re.fullmatch(TAG_PATTERN, offcut.tag)]
    if strange:
        said = "A tag here has up to 64 letters, digits, dots, dashes or underscores."
        raise InputRefused(
            tuple(
                Finding(
                    severity=Severity.ERROR,
                    code="tag-not-usable",
                    where=offcut.where,
                    found=offcut.tag[:80],
                    message=said,
                )
                for offcut in strange
            )
        )


def _store_line(session: Session, line: StockLine, currency: str, caller: Caller, now: int) -> None:
    material = (line.family, line.finish, line.part, line.length)
    row = find_shelf(session, material)
    if row is None:
        found = new_shelf(session, material, line.price, orderable=True, now=now)
    else:
        found = shelved(session, [row])[0]
        found.row.version += 1
        found.row.changed_at = now
        if line.price is None and found.row.price is not None:
            line = replace(line, price=Money(found.row.price))
    keep_terms(found.row, line)
    if line.price is not None:
        found.row.currency = currency or found.row.currency
    counted = line.on_hand if line.on_hand else line.count
    if counted is not None and counted != found.shelf.on_hand:
        change(session, found, lambda shelf: count_bars(shelf, counted, reason="import"), caller.label, now)
