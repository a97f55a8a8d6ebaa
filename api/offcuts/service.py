"""The rack's rows as the stockroom's values, and back."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.catalogue.contents import offcut_of
from api.events.ledger import record
from api.store.models import OffcutRow
from api.web.lengths import day_of_moment, moment_of_day
from api.web.problems import Problem, not_found
from nesting.domain.stock import Offcut
from nesting.stockroom import rack
from nesting.stockroom.rack import Move, Tagged
from nesting.stockroom.states import State

_A_DAY = 86_400_000_000
_TAGS_A_QUERY = 1_000  # a database takes only so many values in one query


def tagged_of(row: OffcutRow) -> Tagged:
    """Give a row as the stockroom sees it."""
    return Tagged(offcut=offcut_of(row), state=State(row.state), plan=row.plan_id or "")


def same_to_cut(one: Offcut, other: Offcut) -> bool:
    """Whether two descriptions of an offcut agree in all that a plan counts on."""
    return (one.family, one.finish, one.part, one.length, one.left, one.right) == (
        other.family,
        other.finish,
        other.part,
        other.length,
        other.left,
        other.right,
    )


def get_offcut(session: Session, tag: str, *, lock: bool = False) -> OffcutRow:
    """
    Give an offcut's row.

    Raises
    ------
    Problem
        When there is no such tag.
    """
    row = session.get(OffcutRow, tag, with_for_update=lock or None, populate_existing=lock)
    if row is None:
        raise not_found(f"offcut {tag}")
    return row


def known_offcuts(session: Session, tags: Iterable[str]) -> dict[str, OffcutRow]:
    """Give the rows of those of these tags that have been used, many at a time; none is locked."""
    wanted = list(dict.fromkeys(tags))
    rows: dict[str, OffcutRow] = {}
    for first in range(0, len(wanted), _TAGS_A_QUERY):
        query = select(OffcutRow).where(OffcutRow.tag.in_(wanted[first : first + _TAGS_A_QUERY]))
        rows |= {row.tag: row for row in session.scalars(query)}
    return rows


def lock_offcuts(session: Session, tags: Iterable[str]) -> dict[str, OffcutRow]:
    """Lock several offcuts, always in the order of their tags so that two callers cannot block each other."""
    wanted = sorted(set(tags))
    if not wanted:
        return {}
    query = select(OffcutRow).where(OffcutRow.tag.in_(wanted)).order_by(OffcutRow.tag).with_for_update()
    query = query.execution_options(populate_existing=True)  # what was read before the lock may be old
    return {row.tag: row for row in session.scalars(query)}


def put_back(row: OffcutRow, after: Tagged, now: int) -> None:
    """Write a changed offcut into its row."""
    offcut = after.offcut
    row.length, row.left, row.right = offcut.length, offcut.left.value, offcut.right.value
    row.lot, row.place, row.value = offcut.lot, offcut.place, offcut.value
    if offcut.born and offcut.born != day_of_moment(row.born_at):
        row.born_at = moment_of_day(offcut.born)
    row.state, row.plan_id = after.state.value, after.plan or None
    row.seen_at = now
    row.version += 1


def change(session: Session, row: OffcutRow, act: Callable[[Tagged], Move], by: str, now: int) -> OffcutRow:
    """
    Do one thing with an offcut and write it into the ledger.

    Raises
    ------
    StockConflict
        When it cannot be done with an offcut that stands so.
    """
    move = act(tagged_of(row))
    put_back(row, move.after, now)
    record(session, [move.entry], by, now)
    return row


def receive(session: Session, offcut: Offcut, reason: str, by: str, now: int) -> OffcutRow:
    """
    Put an offcut on the rack.

    Raises
    ------
    Problem
        When its tag has been used before, whatever became of it, or it is said to be cut on a day to come.
    """
    if session.get(OffcutRow, offcut.tag) is not None:
        detail = f"The tag {offcut.tag} has been used before; a tag is never used again."
        raise Problem(409, "tag-used", detail)
    require_past(offcut.tag, offcut.born, now)
    move = rack.receive(offcut, reason=reason)
    row = new_row(move.after, now)
    session.add(row)
    session.flush()
    record(session, [move.entry], by, now)
    return row


def require_past(tag: str, day: str, now: int) -> None:
    """
    Make sure that an offcut was cut already; a day starts up to half a day earlier east of Greenwich.

    Raises
    ------
    Problem
        When the day has not come yet: a slip in the year would keep the offcut on the rack for ever.
    """
    if day and moment_of_day(day) > now + _A_DAY:
        raise Problem(
            422, "born-later", f"Offcut {tag} cannot have been cut on {day}: that day has not come."
        )


def new_row(tagged: Tagged, now: int, *, plan: str | None = None, bar: int | None = None) -> OffcutRow:
    """
    Give a row for an offcut that is new here, with the plan and bar it was born of.

    It is as old as the day it names says; one that names none is of this moment.
    """
    offcut = tagged.offcut
    return OffcutRow(
        tag=offcut.tag,
        family=offcut.family,
        finish=offcut.finish,
        part=offcut.part.value,
        length=offcut.length,
        left=offcut.left.value,
        right=offcut.right.value,
        lot=offcut.lot,
        place=offcut.place,
        value=offcut.value,
        state=tagged.state.value,
        plan_id=tagged.plan or None,
        born_plan=plan,
        born_bar=bar,
        born_at=moment_of_day(offcut.born) if offcut.born else now,
        seen_at=now,
        version=1,
    )
