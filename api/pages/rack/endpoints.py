"""``/rack``: the rack and every offcut on it."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Path, Query, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from api.deps import ShopHand
from api.offcuts.schemas import TAG_PATTERN
from api.pages.rack.acts import Act, add_offcut, do
from api.pages.rack.answers import Answers
from api.pages.rack.bars import list_bars
from api.pages.rack.find import Order, Standing, piece_meant, read_wanted, tag_meant
from api.pages.rack.form import Filled
from api.pages.rack.label import label_of
from api.pages.rack.materials import materials_known
from api.pages.rack.one import show_offcut
from api.pages.rack.stocktake import rack_by_place, take_stock
from api.pages.rack.view import show_rack
from api.pages.visit import Visit, Visited
from nesting.domain.material import Part
from nesting.domain.stock import EndState

# Addresses that are no tags begin with a sign that no tag begins with.
router = APIRouter(prefix="/rack")

TagPath = Annotated[str, Path(pattern=TAG_PATTERN)]
Text = Annotated[str, Query(max_length=200)]

DONE = {
    Act.COUNT: "Written down as seen.",
    Act.MOVE: "Written down where it is now.",
    Act.CORRECT: "Corrected.",
    Act.QUARANTINE: "Set aside: no plan will take it.",
    Act.RESTORE: "Put back: plans may take it.",
    Act.SCRAP: "Scrapped.",
    Act.LOSE: "Written down as not found.",
    Act.FIND: "Found again, and back on the rack.",
}


@router.get("")
def show_list(
    request: Request,
    visit: Visited,
    tag: Text = "",
    family: Text = "",
    finish: Text = "",
    part: Text = "",
    place: Text = "",
    shortest: Text = "",
    state: Text = "",
    order: Text = "",
    page: Text = "",
) -> Response:
    """Show what is on the rack and the bars on hand; a whole tag leads straight to its offcut."""
    typed = " ".join(tag.split())
    wanted = read_wanted(dict(request.query_params) | {"tag": typed}, visit.lengths.unit)
    store = visit.service.store
    with store.read() as session:
        if typed:
            if meant := tag_meant(session, typed):
                return RedirectResponse(f"/rack/{meant}", 303)
            if piece := piece_meant(session, typed):
                return RedirectResponse(f"/plans/{piece[0]}?{urlencode({'piece': piece[1]})}", 303)
        rack = show_rack(session, wanted, visit.lengths, store.now(session))
        bars = list_bars(session, visit.lengths, family=wanted.family, finish=wanted.finish, part=wanted.part)
    return visit.page(
        "rack/list.html",
        422 if wanted.errors else 200,
        rack=rack,
        wanted=wanted,
        bars=bars,
        standings=tuple(Standing),
        orders=tuple(Order),
    )


@router.get("/~add")
def ask_offcut(visit: Visited, caller: ShopHand) -> HTMLResponse:
    """Ask what comes on the rack."""
    return _adding(visit, Answers({}, visit.lengths.unit))


@router.post("/~add")
def add(visit: Visited, caller: ShopHand, filled: Filled) -> Response:
    """Put a measured offcut on the rack."""
    answers, store = Answers(filled, visit.lengths.unit), visit.service.store
    with store.write() as session:
        tag = add_offcut(session, answers, caller.label, store.now(session))
    return _adding(visit, answers) if tag is None else RedirectResponse(f"/rack/{tag}", 303)


def _adding(visit: Visit, answers: Answers) -> HTMLResponse:
    with visit.service.store.read() as session:
        known = materials_known(session)
    return visit.page(
        "rack/add.html",
        422 if answers.errors else 200,
        answers=answers,
        known=known,
        parts=tuple(Part),
        ends=tuple(EndState),
    )


@router.get("/~stocktake")
def ask_stocktake(
    visit: Visited,
    caller: ShopHand,
    place: Text = "",
    seen: Annotated[int | None, Query(ge=0)] = None,
    measured: Annotated[int, Query(ge=0)] = 0,
    missing: Annotated[int, Query(ge=0)] = 0,
) -> HTMLResponse:
    """Show what should lie at each place; after one, what was found."""
    told = None if seen is None else {"seen": seen, "measured": measured, "missing": missing}
    return _stocktake(visit, place, Answers({}, visit.lengths.unit), told)


@router.post("/~stocktake")
def stocktake(visit: Visited, caller: ShopHand, filled: Filled) -> Response:
    """Write down what was found."""
    answers, store = Answers(filled, visit.lengths.unit), visit.service.store
    place = answers.text("place")
    with store.write() as session:
        taken = take_stock(session, answers, caller.label, store.now(session))
    if taken is None:
        return _stocktake(visit, place, answers, None)
    told = {"place": place, "seen": taken.seen, "measured": taken.measured, "missing": taken.missing}
    return RedirectResponse(f"/rack/~stocktake?{urlencode(told)}", 303)


def _stocktake(visit: Visit, place: str, answers: Answers, told: dict[str, int] | None) -> HTMLResponse:
    store = visit.service.store
    with store.read() as session:
        now = store.now(session)
        everywhere = rack_by_place(session, visit.lengths, now)
    places = [one for one in everywhere if place in ("", one.name)]
    return visit.page(
        "rack/stocktake.html",
        422 if answers.errors else 200,
        places=places,
        everywhere=[one.name for one in everywhere],
        place=place,
        answers=answers,
        told=told,
    )


@router.get("/{tag}")
def show_one(tag: TagPath, visit: Visited, done: Act | None = None) -> HTMLResponse:
    """Show one offcut, also one that is long gone."""
    return _one(visit, tag, Answers({}, visit.lengths.unit), told=DONE[done] if done else "")


@router.get("/{tag}/label")
def show_label(tag: TagPath, visit: Visited) -> HTMLResponse:
    """Show an offcut's label, to be printed."""
    store = visit.service.store
    with store.read() as session:
        label = label_of(show_offcut(session, tag, visit.lengths, store.now(session)))
    return visit.page("rack/label.html", label=label)


@router.post("/{tag}/{act}")
def act_on(tag: TagPath, act: Act, visit: Visited, caller: ShopHand, filled: Filled) -> Response:
    """Count, move, correct, set aside, put back, scrap, lose or find an offcut."""
    answers, store = Answers(filled, visit.lengths.unit), visit.service.store
    with store.write() as session:
        done = do(session, tag, act, answers, caller.label, store.now(session))
    if done:
        return RedirectResponse(f"/rack/{quote(tag)}?done={act.value}", 303)
    return _one(visit, tag, answers, failed=act)


def _one(
    visit: Visit, tag: str, answers: Answers, *, told: str = "", failed: Act | None = None
) -> HTMLResponse:
    store = visit.service.store
    with store.read() as session:
        offcut = show_offcut(session, tag, visit.lengths, store.now(session))
    return visit.page(
        "rack/offcut.html",
        422 if failed else 200,
        offcut=offcut,
        answers=answers,
        told=told,
        failed=failed,
        ends=tuple(EndState),
    )
