"""Pieces cut wrong and too short to keep: scrap, unless their own plan, planned again, has a use for one."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.store.models import BarRow, OffcutRow
from nesting.stockroom.states import State

SHORT = "shorter than the keep length"


def too_short(session: Session, row: OffcutRow) -> bool:
    """Whether an offcut is a piece cut wrong that was too short to keep when it came about."""
    if row.born_plan is None or row.born_bar is None:
        return False
    bar = session.get(BarRow, (row.born_plan, row.born_bar))
    return bar is not None and row.tag in (bar.report or {}).get("short", ())


def short_at_saw(session: Session, plans: Collection[str]) -> dict[str, OffcutRow]:
    """Give the pieces that came about with these plans, were too short to keep, and are in nobody's use."""
    query = select(OffcutRow).where(OffcutRow.born_plan.in_(plans), OffcutRow.state == State.SCRAPPED.value)
    return {row.tag: row for row in session.scalars(query.order_by(OffcutRow.tag)) if too_short(session, row)}
