"""Walking along the rack with a tape: what should lie there, what was found; all at once or not at all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.offcuts.service import change, lock_offcuts
from api.pages.rack.answers import Answers
from api.pages.rack.find import Standing
from api.pages.rack.view import OffcutLine, offcut_line
from api.pages.rack.words import holders
from api.store.models import OffcutRow
from nesting.reports.lengths import BothUnits
from nesting.stockroom import rack
from nesting.stockroom.rack import Move, Tagged
from nesting.stockroom.states import State
from nesting.units import Length

REASON = "stocktake"
MOST = 1000


class Found(StrEnum):
    """What was found of one offcut; nobody has looked until somebody says so."""

    NOT_LOOKED = ""
    HERE = "here"
    NOT_HERE = "not here"


@dataclass(frozen=True, slots=True)
class Place:
    """A place of the rack with what should lie there."""

    name: str
    lines: tuple[OffcutLine, ...]


@dataclass(frozen=True, slots=True)
class Taken:
    """How many offcuts were seen as they are written, measured anew, and not found."""

    seen: int
    measured: int
    missing: int


def rack_by_place(session: Session, lengths: BothUnits, now: int, *, place: str = "") -> tuple[Place, ...]:
    """Give what should lie at each place, or at one, in the order in which one walks."""
    query = select(OffcutRow).where(OffcutRow.state.in_([state.value for state in Standing.HELD.states]))
    if place:
        query = query.where(OffcutRow.place == place)
    rows = session.scalars(query.order_by(OffcutRow.place, OffcutRow.tag).limit(MOST)).all()
    having = holders(session, rows)
    places: dict[str, list[OffcutLine]] = {}
    for row in rows:
        places.setdefault(row.place, []).append(offcut_line(row, having.get(row.tag), {}, lengths, now))
    return tuple(Place(name, tuple(lines)) for name, lines in places.items())


def take_stock(session: Session, answers: Answers, by: str, now: int) -> Taken | None:
    """
    Write down what was found, in one stroke.

    Fields are ``found TAG`` and ``length TAG``; a length alone means that it is here.

    Returns
    -------
    None when anything is not understood or not possible; then nothing has happened and
    ``answers.errors`` says why, by the field.
    """
    tags = [name.removeprefix("found ") for name in answers.given if name.startswith("found ")]
    moves: list[tuple[OffcutRow, Callable[[Tagged], Move]]] = []
    done: Counter[str] = Counter()
    for tag, row in lock_offcuts(session, tags).items():
        found = answers.choice(f"found {tag}", Found, Found.NOT_LOOKED)
        measured = answers.length(f"length {tag}")
        move = _move(row, found, measured, answers)
        if move is not None:
            moves.append((row, move[1]))
            done[move[0]] += 1
    if answers.errors:
        return None
    for row, act in moves:
        change(session, row, act, by, now)
    return Taken(done["seen"], done["measured"], done["missing"])


def _move(
    row: OffcutRow, found: Found, measured: Length | None, answers: Answers
) -> tuple[str, Callable[[Tagged], Move]] | None:
    state, tag = State(row.state), row.tag
    if found is Found.NOT_LOOKED and measured is None:
        return None
    if not state.held:
        answers.errors[f"found {tag}"] = f"It has been {state.value} meanwhile."
        return None
    reserved = "A plan has reserved it and counts on it; report it at that plan's bar."
    if found is Found.NOT_HERE:
        if measured is not None:
            answers.errors[f"length {tag}"] = "It has a length, so it is here; take one of the two away."
        elif state is State.RESERVED:
            answers.errors[f"found {tag}"] = reserved
        return "missing", lambda tagged: rack.lose(tagged, reason=REASON)
    if measured is None or measured == row.length:
        return "seen", lambda tagged: rack.seen(tagged, reason=REASON)
    if state is State.RESERVED:
        answers.errors[f"length {tag}"] = reserved
    length = measured
    return "measured", lambda tagged: rack.measure(tagged, length, reason=REASON)
