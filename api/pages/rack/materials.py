"""Families and finishes that are known, to be offered where somebody types one."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select, union
from sqlalchemy.orm import Session

from api.store.models import FamilyRow, OffcutRow, ShelfRow

OFFERED = 500


@dataclass(frozen=True, slots=True)
class Known:
    """What has been written before; anything else may be written too."""

    families: tuple[str, ...]
    finishes: tuple[str, ...]
    places: tuple[str, ...]


def materials_known(session: Session) -> Known:
    """Give the families, finishes and rack places that the catalogue, the shelves and the rack name."""
    families = union(select(FamilyRow.name), select(ShelfRow.family), select(OffcutRow.family))
    finishes = union(select(ShelfRow.finish), select(OffcutRow.finish))
    places = select(OffcutRow.place).distinct()
    found = (session.scalars(query).all() for query in (families, finishes, places))
    return Known(*(tuple(sorted(filter(None, names))[:OFFERED]) for names in found))
