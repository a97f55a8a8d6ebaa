"""``/new`` and ``/drafts/{id}``: a list comes in, is read, corrected, and set going."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Path, Query, Request, Response
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, RedirectResponse

from api.catalogue.contents import contents
from api.deps import Planner, ShopHand
from api.offcuts.brought import brought, put_on_rack
from api.pages.new.choices import FIELDS, OWN_STOCK_ONLY, SAW_FIELDS, UNITS, typed_choices
from api.pages.new.drafts import choose, correct_cells, draft_row, keep_draft, list_drafts, read_draft
from api.pages.new.intake import Sent, read_sent
from api.pages.new.reading import readings
from api.pages.new.rows import Show
from api.pages.new.start import start_draft
from api.pages.new.view import draft_view, row_places, standing_texts
from api.pages.visit import Visit, Visited
from api.web.problems import Problem
from nesting.errors import Where

CELL = "cell:"
_MOST_FIELDS = 3_000
_DRAFTS_SHOWN = 8

router = APIRouter()
DraftId = Annotated[str, Path(pattern="^[0-9a-f]{32}$")]
PageNumber = Annotated[int, Query(ge=1, le=100_000)]
Opened = Annotated[str, Query(max_length=300)]


async def _typed(request: Request) -> dict[str, str]:
    async with request.form(max_files=0, max_fields=_MOST_FIELDS) as form:
        # A NUL means nothing in a cell, and not every database can keep one.
        return {n: value.replace("\0", "") for n, value in form.multi_items() if isinstance(value, str)}


Typed = Annotated[dict[str, str], Depends(_typed)]


@router.get("/new")
def new_plan(visit: Visited, caller: Planner) -> HTMLResponse:
    """Ask for a list: a file, or rows pasted from a spreadsheet."""
    return _ask(visit)


@router.post("/new")
async def take_list(request: Request, visit: Visited, caller: Planner) -> Response:
    """Keep what was dropped or pasted as a draft, and show how it is read."""
    try:
        sent = await read_sent(request)
    except Problem as why:
        return await run_in_threadpool(_ask, visit, why.status, why.detail)
    draft_id = await run_in_threadpool(_keep, visit, sent)
    return RedirectResponse(f"/drafts/{draft_id}", 303)


def _ask(visit: Visit, status: int = 200, fault: str = "") -> HTMLResponse:
    with visit.service.store.read() as session:
        drafts = list_drafts(session, _DRAFTS_SHOWN)
        have = contents(session)
    return visit.page("new/new.html", status, fault=fault, drafts=drafts, have=have)


def _keep(visit: Visit, sent: Sent) -> str:
    with visit.service.store.write() as session:
        now = visit.service.store.now(session)
        return keep_draft(session, sent.name, sent.body, visit.caller, now)


@router.get("/drafts/{draft_id}")
def show_draft(
    draft_id: DraftId,
    visit: Visited,
    caller: Planner,
    show: Show | None = None,
    page: PageNumber = 1,
    row: Opened = "",
) -> HTMLResponse:
    """Show what was read of a list, row by row, and what can be chosen beside it."""
    return draft_page(visit, draft_id, show=show, page=page, row=row)


@router.post("/drafts/{draft_id}/read")
def read_again(draft_id: DraftId, visit: Visited, caller: Planner, typed: Typed) -> RedirectResponse:
    """Keep corrected cells and choices, and read the list again."""
    keep_typed(visit, draft_id, typed)
    kept = {name: typed[name] for name in ("show", "page") if typed.get(name)}
    return RedirectResponse(f"/drafts/{draft_id}?{urlencode(kept)}".rstrip("?"), 303)


@router.post("/drafts/{draft_id}/start")
def start(draft_id: DraftId, visit: Visited, caller: Planner, typed: Typed) -> Response:
    """Keep what was typed and plan the list; where anything is to be settled first, say what."""
    keep_typed(visit, draft_id, typed)
    try:
        plan_id = start_draft(visit.service, draft_id, caller)
    except Problem as why:
        if why.status not in (422, 503):
            raise
        return draft_page(visit, draft_id, status=why.status, fault=why.detail)
    return RedirectResponse(f"/plans/{plan_id}", 303)


@router.post("/drafts/{draft_id}/rack")
def put_offcuts_on_rack(draft_id: DraftId, visit: Visited, caller: ShopHand, typed: Typed) -> Response:
    """Put on the rack what is new of the list's offcuts, so that a plan that cuts them can be released."""
    keep_typed(visit, draft_id, typed)
    store = visit.service.store
    with store.read() as session:
        draft = read_draft(session, draft_id)
    request = readings.of(visit.service, draft).request
    try:
        with store.write() as session:
            offcuts = request.offcuts if request else ()
            put_on_rack(session, offcuts, f"from {draft.name}", caller.label, store.now(session))
    except Problem as why:
        if why.status != 422:
            raise
        return draft_page(visit, draft_id, status=why.status, fault=why.detail)
    return RedirectResponse(f"/drafts/{draft_id}", 303)


@router.post("/drafts/{draft_id}/forget")
def forget(draft_id: DraftId, visit: Visited, caller: Planner) -> RedirectResponse:
    """Drop a draft; a plan that was made of it stays."""
    with visit.service.store.write() as session:
        session.delete(draft_row(session, draft_id, lock=True))
    return RedirectResponse("/new", 303)


def draft_page(
    visit: Visit,
    draft_id: str,
    status: int = 200,
    *,
    show: Show | None = None,
    page: int = 1,
    row: str = "",
    fault: str = "",
) -> HTMLResponse:
    """
    Give the page of a draft.

    Raises
    ------
    Problem
        When there is no such draft, or it cannot be read at all.
    """
    with visit.service.store.read() as session:
        draft = read_draft(session, draft_id)
    reading = readings.of(visit.service, draft)
    with visit.service.store.read() as session:
        rack = brought(session, reading.request.offcuts if reading.request else ())
    return visit.page(
        "new/draft.html",
        status,
        draft=draft,
        reading=reading,
        brought=rack,
        view=draft_view(draft, reading, show=show, page=page, opened=row),
        cell_field=cell_field,
        saw_fields=SAW_FIELDS,
        units=UNITS,
        own_stock_only=OWN_STOCK_ONLY,
        seconds=visit.service.settings.plan_seconds,
        fault=fault,
    )


def keep_typed(visit: Visit, draft_id: str, typed: dict[str, str]) -> None:
    """
    Keep the cells and choices of a form.

    Raises
    ------
    Problem
        When there is no such draft.
    """
    store = visit.service.store
    with store.read() as session:
        draft = read_draft(session, draft_id)
    sheets = readings.of(visit.service, draft).outcome.sheets
    cells = {where: text for name, text in typed.items() if (where := cell_of(name)) is not None}
    for where in row_places(sheets, typed.get("out", "")):
        cells[where] = ""
    with store.write() as session:
        now = store.now(session)
        correct_cells(session, draft_id, cells, standing_texts(sheets), now)
        if any(name in typed for name in FIELDS):
            choose(session, draft_id, typed_choices(typed), now)


def cell_field(where: Where) -> str:
    """Give the name of the form's field for a cell."""
    return f"{CELL}{where.at}!{where.source}"


def cell_of(name: str) -> Where | None:
    """Give the cell that a form's field is for; None for any other field."""
    if not name.startswith(CELL):
        return None
    at, _, source = name.removeprefix(CELL).partition("!")
    return Where(source, at)
