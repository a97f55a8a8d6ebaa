"""What goes into which box: one box a unit, its pieces by room, and what is missing from it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.runs import NO_PLACE
from nesting.reports.bags import UnitKey, unit_key
from nesting.reports.whereabouts import bars_in_order, pieces_by_id, spots
from nesting.units import Length

Natural = tuple[tuple[int, int, str], ...]


@dataclass(frozen=True, slots=True)
class UnitBox:
    """
    The box of one unit of one job.

    Parameters
    ----------
    pieces
        With the number of the bar each comes from, by room, spot and id.
    missing
        What the plan leaves out and the box therefore lacks.
    complete_after
        Number of the bar that completes the box, the last of its bars to be cut; 0 when it is empty.
    """

    job: str
    building: str
    floor: str
    unit: str
    pieces: tuple[tuple[Piece, int], ...]
    missing: tuple[Unplaced, ...] = ()
    complete_after: int = 0

    @property
    def key(self) -> UnitKey:
        """Give what the box is known by."""
        return self.job, self.building, self.floor, self.unit

    @property
    def longest(self) -> Length:
        """Give the length of the longest piece; 0 when the box is empty."""
        return max((piece.stop for piece, _ in self.pieces), default=Length(0))


def natural(text: str) -> Natural:
    """Give a key that sorts numbers inside a text as numbers: A2 before A10."""
    parts = re.findall(r"[0-9]+|[^0-9]+", text)
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)


def unit_boxes(plan: Plan) -> tuple[UnitBox, ...]:
    """Give every unit's box, by job, building, floor and unit; pieces without a unit share one a floor."""
    where = spots(plan)
    known = pieces_by_id(plan)
    runs = {(run.job, run.id): run.place for run in plan.request.runs}
    runs |= {(line.job, line.id): line.place for line in plan.request.piece_lines}
    filled: dict[UnitKey, list[tuple[Piece, int]]] = {}
    lacking: dict[UnitKey, list[Unplaced]] = {}
    for piece in plan.pieces:
        if piece.id in where:
            key = unit_key(piece.job, piece.place)
            filled.setdefault(key, []).append((piece, where[piece.id].bar.number))
    for left_out in plan.unplaced:
        place = (
            known[left_out.piece].place if left_out.piece in known else runs.get((left_out.job, left_out.run))
        )
        lacking.setdefault(unit_key(left_out.job, place or NO_PLACE), []).append(left_out)
    # A plan after a report cuts bars in another order than that of their numbers.
    turn = {bar.number: at for at, (_, bar) in enumerate(bars_in_order(plan))}
    last = {key: max((bar for _, bar in pieces), key=turn.__getitem__) for key, pieces in filled.items()}
    keys = sorted(filled.keys() | lacking.keys(), key=lambda key: tuple(natural(part) for part in key))
    return tuple(
        UnitBox(
            *key,
            pieces=tuple(sorted(filled.get(key, ()), key=_by_room)),
            missing=tuple(lacking.get(key, ())),
            complete_after=last.get(key, 0),
        )
        for key in keys
    )


def _by_room(packed: tuple[Piece, int]) -> tuple[Natural, Natural, Natural]:
    piece, _ = packed
    return natural(piece.place.room), natural(piece.place.spot), natural(piece.id)
