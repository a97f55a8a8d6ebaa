"""``/rack/~bars``: whole bars on hand."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from api.deps import ShopHand
from api.pages.rack.answers import Answers
from api.pages.rack.bars import BarAct, add_bars, do_with_bars, show_bars
from api.pages.rack.form import Filled
from api.pages.rack.materials import materials_known
from api.pages.visit import Visit, Visited
from nesting.domain.material import Part

router = APIRouter(prefix="/rack/~bars")

ShelfId = Annotated[str, Path(pattern="^[0-9a-f]{32}$")]

DONE = {
    BarAct.RECEIVE: "Taken in.",
    BarAct.COUNT: "Counted.",
    BarAct.QUARANTINE: "Set aside: no plan will take them.",
    BarAct.RESTORE: "Put back: plans may take them.",
    BarAct.SCRAP: "Scrapped.",
}


@router.get("/add")
def ask_bars(visit: Visited, caller: ShopHand) -> HTMLResponse:
    """Ask for a stock length that is not listed yet."""
    return _adding(visit, Answers({}, visit.lengths.unit))


@router.post("/add")
def add(visit: Visited, caller: ShopHand, filled: Filled) -> Response:
    """List a stock length."""
    answers, store = Answers(filled, visit.lengths.unit), visit.service.store
    with store.write() as session:
        made = add_bars(session, answers, caller.label, store.now(session))
    return _adding(visit, answers) if made is None else RedirectResponse(f"/rack/~bars/{made}", 303)


def _adding(visit: Visit, answers: Answers) -> HTMLResponse:
    with visit.service.store.read() as session:
        known = materials_known(session)
    status = 422 if answers.errors else 200
    return visit.page("rack/add_bars.html", status, answers=answers, known=known, parts=tuple(Part))


@router.get("/{shelf_id}")
def show(shelf_id: ShelfId, visit: Visited, done: BarAct | None = None) -> HTMLResponse:
    """Show the bars of one stock length."""
    return _one(visit, shelf_id, Answers({}, visit.lengths.unit), told=DONE[done] if done else "")


@router.post("/{shelf_id}/{act}")
def act_on(shelf_id: ShelfId, act: BarAct, visit: Visited, caller: ShopHand, filled: Filled) -> Response:
    """Take bars in, count them, set them aside, put them back or scrap them."""
    answers, store = Answers(filled, visit.lengths.unit), visit.service.store
    with store.write() as session:
        done = do_with_bars(session, shelf_id, act, answers, caller.label, store.now(session))
    if done:
        return RedirectResponse(f"/rack/~bars/{shelf_id}?done={act.value}", 303)
    return _one(visit, shelf_id, answers, failed=act)


def _one(
    visit: Visit, shelf_id: str, answers: Answers, *, told: str = "", failed: BarAct | None = None
) -> HTMLResponse:
    with visit.service.store.read() as session:
        bars = show_bars(session, shelf_id, visit.lengths)
    status = 422 if failed else 200
    return visit.page("rack/bars.html", status, bars=bars, answers=answers, told=told, failed=failed)
