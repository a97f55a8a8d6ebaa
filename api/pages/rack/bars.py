"""Bars on hand: how many of each stock length stand there, who has them, and what is done with them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.pages.rack.acts import WHY
from api.pages.rack.answers import Answers
from api.pages.rack.history import Event, bars_history
from api.pages.rack.words import Holder, holder_of, plans_named
from api.stock.currency import settle_currency
from api.stock.service import Shelved, change, find_shelf, get_shelf, new_shelf, shelved
from api.store.models import ShelfRow
from nesting.domain.material import Part
from nesting.money import money_text
from nesting.reports.lengths import BothUnits
from nesting.stockroom import shelves
from nesting.stockroom.shelves import Shelf, ShelfMove
from nesting.stockroom.states import StockConflict

SHOWN = 500


class BarAct(StrEnum):
    """A button on the page of a stock length."""

    RECEIVE = "receive"
    COUNT = "count"
    QUARANTINE = "quarantine"
    RESTORE = "restore"
    SCRAP = "scrap"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Bars a plan has reserved."""

    holder: Holder
    bars: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BarsLine:
    """
    One stock length as a row of the list.

    Parameters
    ----------
    terms
        How it is sold, where that is not bar by bar: ``in packs of 10, 20 at least``.
    """

    id: str
    name: str
    family: str
    finish: str
    part: str
    length: str
    other_length: str
    price: str
    terms: str
    orderable: bool
    free: int
    reserved: int
    set_aside: int
    on_hand: int
    kept: tuple[Kept, ...]
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BarsView:
    """One stock length with its history."""

    line: BarsLine
    acts: tuple[BarAct, ...]
    events: tuple[Event, ...]

    def may(self, act: str) -> bool:
        """Whether a thing can be done with the bars as they stand."""
        return BarAct(act) in self.acts


def list_bars(
    session: Session, lengths: BothUnits, *, family: str = "", finish: str = "", part: str = ""
) -> tuple[BarsLine, ...]:
    """Give the stock lengths of a material, or all; "-" stands for no finish."""
    query = select(ShelfRow).order_by(ShelfRow.family, ShelfRow.finish, ShelfRow.part, ShelfRow.length)
    for column, wanted in ((ShelfRow.family, family), (ShelfRow.part, part)):
        if wanted:
            query = query.where(column == wanted)
    if finish:
        query = query.where(ShelfRow.finish == ("" if finish == "-" else finish))
    found = shelved(session, session.scalars(query.limit(SHOWN)).all())
    return _lines(session, found, lengths)


def show_bars(session: Session, shelf_id: str, lengths: BothUnits) -> BarsView:
    """
    Give one stock length.

    Raises
    ------
    Problem
        When there is no such stock length.
    """
    found = get_shelf(session, shelf_id)
    acts = [BarAct.RECEIVE, BarAct.COUNT]
    if found.shelf.free:
        acts.append(BarAct.QUARANTINE)
    if found.shelf.quarantined:
        acts += [BarAct.RESTORE, BarAct.SCRAP]
    return BarsView(
        line=_lines(session, [found], lengths)[0],
        acts=tuple(acts),
        events=bars_history(session, found.shelf.key),
    )


def add_bars(session: Session, answers: Answers, by: str, now: int) -> str | None:
    """
    Set up a stock length with the bars that stand there; give its id.

    Returns
    -------
    None when something is not understood; then nothing has happened and ``answers.errors`` says why.
    """
    family = answers.word("family", "Say of which family the channel is.")
    finish = answers.word("finish")
    part = answers.choice("part", Part, Part.CHANNEL)
    length = answers.length("length", "A stock length is needed.")
    price = answers.money("price")
    bars = answers.whole("bars", "Give the number of bars, 0 if none.") if answers.text("bars") else 0
    if answers.errors or length is None:
        return None
    if find_shelf(session, (family, finish, part, length)) is not None:
        answers.errors["length"] = "This stock length is listed already."
        return None
    made = new_shelf(
        session, (family, finish, part, length), price, orderable=not answers.text("last"), now=now
    )
    if bars:
        change(session, made, lambda shelf: shelves.receive_bars(shelf, bars, reason="first count"), by, now)
    settle_currency(session)
    return made.row.id


def do_with_bars(session: Session, shelf_id: str, act: BarAct, answers: Answers, by: str, now: int) -> bool:
    """
    Do one thing with the bars of a stock length.

    Returns
    -------
    Whether it was done; if not, nothing has happened and ``answers.errors`` says why.

    Raises
    ------
    Problem
        When there is no such stock length.
    """
    found = get_shelf(session, shelf_id, lock=True)
    # A delivery is an addition that cannot overwrite anybody's change.
    if act is not BarAct.RECEIVE and answers.text("version") != str(found.row.version):
        answers.errors["act"] = "Somebody has changed it since you looked; this is how it stands now."
        return False
    move = _move(act, answers)
    if answers.errors:
        return False
    try:
        change(session, found, move, by, now)
    except StockConflict:
        answers.errors["bars"] = _why_not(act, found.shelf)
        return False
    return True


def _move(act: BarAct, answers: Answers) -> Callable[[Shelf], ShelfMove]:
    counting = act is BarAct.COUNT
    least = 0 if counting else 1
    bars = answers.whole("bars", f"Give a whole number of bars, {least} or more.", least=least)
    if act in (BarAct.RECEIVE, BarAct.COUNT):
        reason = answers.word("reason") or ("count" if counting else "delivery")
    else:
        reason = answers.word("reason", WHY)
    move = {
        BarAct.RECEIVE: shelves.receive_bars,
        BarAct.QUARANTINE: shelves.quarantine_bars,
        BarAct.RESTORE: shelves.restore_bars,
        BarAct.SCRAP: shelves.scrap_bars,
        BarAct.COUNT: shelves.count_bars,
    }[act]
    return lambda shelf: move(shelf, bars, reason=reason)


def _why_not(act: BarAct, shelf: Shelf) -> str:
    kept = shelf.on_hand - shelf.free
    if act is BarAct.COUNT:
        return f"{kept} of the bars are reserved or set aside; a count cannot be lower. Free those first."
    if act is BarAct.QUARANTINE:
        return f"Only {shelf.free} are free."
    return f"Only {shelf.quarantined} are set aside."


def _lines(session: Session, found: list[Shelved], lengths: BothUnits) -> tuple[BarsLine, ...]:
    plans = plans_named(session, {plan for one in found for plan, _ in one.shelf.reserved})
    return tuple(
        BarsLine(
            id=one.row.id,
            name=one.shelf.key,
            family=one.shelf.family,
            finish=one.shelf.finish,
            part=one.shelf.part.value,
            length=lengths.first(one.shelf.length),
            other_length=lengths.second(one.shelf.length),
            price="" if one.row.price is None else f"{money_text(one.row.price)} {one.row.currency}".strip(),
            terms=_terms(one.row),
            orderable=one.shelf.orderable,
            free=one.shelf.free,
            reserved=sum(bars for _, bars in one.shelf.reserved),
            set_aside=one.shelf.quarantined,
            on_hand=one.shelf.on_hand,
            kept=tuple(
                Kept(holder=holder_of(plans[plan]), bars=bars)
                for plan, bars in one.shelf.reserved
                if plan in plans
            ),
            version=one.row.version,
        )
        for one in found
    )


def _terms(row: ShelfRow) -> str:
    said = (
        f"in packs of {row.pack}" if row.pack > 1 else "",
        f"{row.minimum} at least" if row.minimum > 1 else "",
        f"{row.supply} can be had" if row.supply is not None else "",
        "cheaper in numbers" if row.breaks else "",
        f"from {row.supplier}" if row.supplier else "",
        "" if row.lead_days is None else f"{row.lead_days} days" if row.lead_days != 1 else "1 day",
    )
    return ", ".join(filter(None, said))
