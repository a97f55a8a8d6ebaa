"""What every block of a cut sheet looks up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.stock import Offcut
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import rooms_by_piece
from nesting.reports.unverified import unverified
from nesting.reports.whereabouts import pieces_by_id


@dataclass(frozen=True, slots=True)
class Book:
    """Units, pieces and where they go by id, offcuts by tag, the pieces whose sizes are not verified."""

    lengths: BothUnits
    pieces: Mapping[str, Piece]
    rooms: Mapping[str, str]
    rack: Mapping[str, Offcut]
    unverified: frozenset[str] = frozenset()

    @classmethod
    def of(cls, plan: Plan, lengths: BothUnits) -> Book:
        """Open the book of a plan."""
        rack = {offcut.tag: offcut for offcut in plan.request.offcuts}
        return cls(lengths, pieces_by_id(plan), rooms_by_piece(plan), rack, unverified(plan))
