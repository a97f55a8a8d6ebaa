"""The shelves' rows as the stockroom's values, and back."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from api.events.ledger import record
from api.store.ids import new_id
from api.store.models import HoldRow, ShelfRow
from api.web.problems import not_found
from nesting.domain.material import Part
from nesting.money import Money
from nesting.stockroom.shelves import Shelf, ShelfMove
from nesting.units import Length, Unit, length_text

Material = tuple[str, str, Part, Length]


@dataclass(slots=True)
class Shelved:
    """A shelf's row and what it says."""

    row: ShelfRow
    shelf: Shelf

    @property
    def version(self) -> int:
        """The row's version."""
        return self.row.version


def shelf_name(family: str, finish: str, part: Part, length: Length) -> str:
    """Give the shelf's name in the ledger: what lies there."""
    return " | ".join((family, finish or "-", part.value, length_text(length, Unit.MM)))


def get_shelf(session: Session, shelf_id: str, *, lock: bool = False) -> Shelved:
    """
    Give a shelf.

    Raises
    ------
    Problem
        When there is no such shelf.
    """
    row = session.get(ShelfRow, shelf_id, with_for_update=lock or None, populate_existing=lock)
    if row is None:
        raise not_found(f"stock {shelf_id}")
    return shelved(session, [row])[0]


def shelved(session: Session, rows: Sequence[ShelfRow]) -> list[Shelved]:
    """Give shelves with what plans have reserved on them."""
    holds: defaultdict[str, list[tuple[str, int]]] = defaultdict(list)
    found = session.scalars(
        select(HoldRow)
        .where(HoldRow.shelf_id.in_([row.id for row in rows]))
        .order_by(HoldRow.plan_id)
        .execution_options(populate_existing=True)
    )
    for hold in found:
        holds[hold.shelf_id].append((hold.plan_id, hold.bars))
    return [Shelved(row, _shelf(row, holds[row.id])) for row in rows]


def lock_shelves(session: Session, shelf_ids: Collection[str]) -> dict[str, Shelved]:
    """Lock several shelves, always in the order of their ids so that two callers cannot block each other."""
    if not shelf_ids:
        return {}
    query = select(ShelfRow).where(ShelfRow.id.in_(shelf_ids)).order_by(ShelfRow.id).with_for_update()
    query = query.execution_options(populate_existing=True)  # what was read before the lock may be old
    return {one.row.id: one for one in shelved(session, session.scalars(query).all())}


def find_shelf(session: Session, material: Material) -> ShelfRow | None:
    """Give the shelf of a stock length; None when there is none."""
    family, finish, part, length = material
    return session.execute(
        select(ShelfRow).where(
            ShelfRow.family == family,
            ShelfRow.finish == finish,
            ShelfRow.part == part.value,
            ShelfRow.length == length,
        )
    ).scalar_one_or_none()


def new_shelf(
    session: Session, material: Material, price: Money | None, *, orderable: bool, now: int
) -> Shelved:
    """Give an empty shelf for a stock length that has none yet."""
    family, finish, part, length = material
    row = ShelfRow(
        id=new_id(),
        family=family,
        finish=finish,
        part=part.value,
        length=length,
        price=price,
        orderable=orderable,
        pack=1,
        minimum=0,
        breaks=[],
        supplier="",
        currency="",
        free=0,
        quarantined=0,
        version=1,
        changed_at=now,
    )
    session.add(row)
    session.flush()
    return Shelved(row, _shelf(row, []))


def change(
    session: Session, shelved: Shelved, act: Callable[[Shelf], ShelfMove], by: str, now: int
) -> Shelved:
    """
    Do one thing with a shelf's bars and write it into the ledger.

    Raises
    ------
    StockConflict
        When it cannot be done with a shelf that stands so.
    """
    move = act(shelved.shelf)
    before, after, row = shelved.shelf, move.after, shelved.row
    row.free, row.quarantined = after.free, after.quarantined
    row.version += 1
    row.changed_at = now
    for plan in {plan for plan, _ in (*before.reserved, *after.reserved)}:
        bars = after.reserved_for(plan)
        if bars == before.reserved_for(plan):
            continue
        if bars:
            session.merge(HoldRow(shelf_id=row.id, plan_id=plan, bars=bars))
        else:
            session.execute(delete(HoldRow).where(HoldRow.shelf_id == row.id, HoldRow.plan_id == plan))
    record(session, move.entries, by, now)
    shelved.shelf = after
    return shelved


def _shelf(row: ShelfRow, holds: Sequence[tuple[str, int]]) -> Shelf:
    part, length = Part(row.part), Length(row.length)
    return Shelf(
        key=shelf_name(row.family, row.finish, part, length),
        family=row.family,
        finish=row.finish,
        part=part,
        length=length,
        free=row.free,
        quarantined=row.quarantined,
        reserved=tuple(holds),
        orderable=row.orderable,
    )
