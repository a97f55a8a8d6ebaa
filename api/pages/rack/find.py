"""Which offcuts a person wants to see: filters that live in the address."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TypeVar
from urllib.parse import urlencode

from sqlalchemy import ColumnElement, Select, func, select
from sqlalchemy.orm import Session

from api.store.models import OffcutRow, PlanRow
from nesting.errors import LengthNotUnderstood
from nesting.stockroom.states import State
from nesting.units import NO_LENGTH, Length, Unit, read_length

Chosen = TypeVar("Chosen", bound=StrEnum)

ON_A_PAGE = 100
_PIECE_CODE = re.compile(r"(\S+) (\S{1,32})")


class Order(StrEnum):
    """In which order offcuts are listed."""

    TAG = "tag"
    LONGEST = "longest"
    OLDEST = "oldest"
    PLACE = "place"


class Standing(StrEnum):
    """Which offcuts by their state; those on the rack unless something else is asked for."""

    HELD = "on the rack"
    FREE = "free"
    RESERVED = "reserved"
    QUARANTINED = "quarantined"
    GONE = "gone"
    ALL = "all"

    @property
    def states(self) -> tuple[State, ...]:
        """The stockroom's states that belong to it."""
        if self is Standing.HELD:
            return tuple(state for state in State if state.held)
        if self is Standing.GONE:
            return tuple(state for state in State if not state.held)
        return tuple(State) if self is Standing.ALL else (State(self.value),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """
    What is looked for; an empty text leaves all.

    Parameters
    ----------
    tag
        Any part of a tag, in capitals or not.
    shortest
        As typed; ``shortest_length`` is what it means, 0 where it means nothing.
    finish
        "-" for no finish.
    errors
        What was not understood, by the name of its field.
    """

    tag: str = ""
    family: str = ""
    finish: str = ""
    part: str = ""
    place: str = ""
    shortest: str = ""
    shortest_length: Length = NO_LENGTH
    standing: Standing = Standing.HELD
    order: Order = Order.TAG
    page: int = 1
    errors: Mapping[str, str] = field(default_factory=dict)

    @property
    def narrows(self) -> bool:
        """Whether anything but what is on the rack is asked for."""
        return self != Wanted(order=self.order, page=self.page)

    def address(self, **changes: object) -> str:
        """Give the query of the same wish with some parts changed, beginning with its ``?``; or empty."""
        new = replace(self, **{"page": 1, **changes})  # type: ignore[arg-type]
        given = {
            "tag": new.tag,
            "family": new.family,
            "finish": new.finish,
            "part": new.part,
            "place": new.place,
            "shortest": new.shortest,
            "state": "" if new.standing is Standing.HELD else new.standing.value,
            "order": "" if new.order is Order.TAG else new.order.value,
            "page": str(new.page) if new.page > 1 else "",
        }
        words = urlencode({name: value for name, value in given.items() if value})
        return f"?{words}" if words else ""


def read_wanted(query: Mapping[str, str], unit: Unit) -> Wanted:
    """
    Read the filters of an address; what is not understood is told beside its field and left out.

    Parameters
    ----------
    unit
        Unit of a bare number.
    """
    errors = {}
    typed = query.get("shortest", "").strip()[:60]
    shortest = NO_LENGTH
    if typed:
        try:
            shortest = read_length(typed, unit).length
        except LengthNotUnderstood as why:
            errors["shortest"] = f"{why.expected}."
    number = query.get("page", "")
    return Wanted(
        tag=query.get("tag", "").strip()[:200],
        family=query.get("family", "")[:200],
        finish=query.get("finish", "")[:200],
        part=query.get("part", "")[:20],
        place=query.get("place", "")[:200],
        shortest=typed,
        shortest_length=shortest,
        standing=_one_of(Standing, query.get("state", ""), Standing.HELD),
        order=_one_of(Order, query.get("order", ""), Order.TAG),
        page=max(1, int(number)) if number.isdecimal() and len(number) < 7 else 1,
        errors=errors,
    )


@dataclass(frozen=True, slots=True)
class Found:
    """One page of offcuts, and how many there are and how long they are in all, nanometres."""

    rows: tuple[OffcutRow, ...]
    count: int
    length: int


def find_offcuts(session: Session, wanted: Wanted) -> Found:
    """Give the offcuts that are looked for, a page at a time."""
    tests = _tests(wanted)
    count, length = session.execute(
        select(func.count(), func.coalesce(func.sum(OffcutRow.length), 0)).where(*tests)
    ).one()
    query = _ordered(select(OffcutRow).where(*tests), wanted.order)
    rows = session.scalars(query.offset((wanted.page - 1) * ON_A_PAGE).limit(ON_A_PAGE)).all()
    return Found(tuple(rows), int(count), int(length))


@dataclass(frozen=True, slots=True)
class Choices:
    """What there is to choose from in the filters."""

    families: tuple[str, ...]
    finishes: tuple[str, ...]
    parts: tuple[str, ...]
    places: tuple[str, ...]


def choices(session: Session) -> Choices:
    """Give every family, finish, part and place an offcut on the rack has."""

    def of(column: ColumnElement[str]) -> tuple[str, ...]:
        held = [state.value for state in Standing.HELD.states]
        query = select(column).where(OffcutRow.state.in_(held), column != "").distinct().order_by(column)
        return tuple(session.scalars(query.limit(500)))

    columns = (OffcutRow.family, OffcutRow.finish, OffcutRow.part, OffcutRow.place)
    return Choices(*(of(column.expression) for column in columns))


def tag_meant(session: Session, typed: str) -> str | None:
    """
    Give the tag that was scanned or typed; None when it is no offcut's.

    A label's code is the tag, one space and the plan it belongs to; small letters will do.
    """
    word = typed.split(" ")[0]
    if session.get(OffcutRow, word) is not None:
        return word
    query = select(OffcutRow.tag).where(func.lower(OffcutRow.tag) == word.lower()).limit(2)
    found = session.scalars(query).all()
    return found[0] if len(found) == 1 else None


def piece_meant(session: Session, typed: str) -> tuple[str, str] | None:
    """Give the plan's id and the piece that a piece's label says; None when it is no such label."""
    code = _PIECE_CODE.fullmatch(typed)
    if code is None:
        return None
    query = select(PlanRow.id).where((PlanRow.digest == code[2]) | (PlanRow.id == code[2]))
    plan = session.scalars(query.order_by(PlanRow.number.desc()).limit(1)).first()
    return (plan, code[1]) if plan else None


def _tests(wanted: Wanted) -> list[ColumnElement[bool]]:
    tests: list[ColumnElement[bool]] = [
        OffcutRow.state.in_([state.value for state in wanted.standing.states])
    ]
    if wanted.tag:
        tests.append(func.lower(OffcutRow.tag).contains(wanted.tag.split(" ")[0].lower(), autoescape=True))
    for column, value in (
        (OffcutRow.family, wanted.family),
        (OffcutRow.part, wanted.part),
        (OffcutRow.place, wanted.place),
    ):
        if value:
            tests.append(column == value)
    if wanted.finish:
        tests.append(OffcutRow.finish == ("" if wanted.finish == "-" else wanted.finish))
    if wanted.shortest_length:
        tests.append(OffcutRow.length >= wanted.shortest_length)
    return tests


def _ordered(query: Select[OffcutRow], order: Order) -> Select[OffcutRow]:
    by = {
        Order.TAG: (),
        Order.LONGEST: (OffcutRow.length.desc(),),
        Order.OLDEST: (OffcutRow.born_at,),
        Order.PLACE: (OffcutRow.place,),
    }
    return query.order_by(*by[order], OffcutRow.tag)


def _one_of(kind: type[Chosen], text: str, otherwise: Chosen) -> Chosen:
    return next((one for one in kind if one.value == text), otherwise)
