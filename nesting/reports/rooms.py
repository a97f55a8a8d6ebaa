"""Where pieces go, in the words of a label: unit, room and spot, and the building where it is needed."""

from __future__ import annotations

from collections import defaultdict

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.runs import PieceLine, Place, Run


def spread_jobs(plan: Plan) -> frozenset[str]:
    """
    Give the jobs whose units need their building's name: unit 101 alone does not tell which door to go to.

    Those are the jobs that go into several buildings, and those with a unit of the same name as another job.
    """
    buildings: defaultdict[str, set[str]] = defaultdict(set)
    jobs_of: defaultdict[str, set[str]] = defaultdict(set)
    asked: tuple[Run | PieceLine | Piece, ...] = (*plan.request.runs, *plan.request.piece_lines, *plan.pieces)
    for job, place in {(one.job, one.place) for one in asked}:
        buildings[job].add(place.building)
        if place.unit:
            jobs_of[place.unit].add(job)
    alike = {job for jobs in jobs_of.values() if len(jobs) > 1 for job in jobs}
    return frozenset(job for job, known in buildings.items() if len(known) > 1 or job in alike)


def room_words(place: Place, *, spread: bool = False) -> str:
    """
    Give the part of a place that goes on a label: unit, room and spot, else the floor.

    Parameters
    ----------
    spread
        Whether the unit alone does not tell where to go (`spread_jobs`), so that the building is said too.
    """
    inside = " / ".join(p for p in (place.unit, place.room, place.spot) if p) or place.floor
    if spread or not inside:
        return " / ".join(p for p in (place.building, inside) if p)
    return inside


def rooms_by_piece(plan: Plan) -> dict[str, str]:
    """Give where every piece goes by its id."""
    spread = spread_jobs(plan)
    return {piece.id: room_words(piece.place, spread=piece.job in spread) for piece in plan.pieces}
