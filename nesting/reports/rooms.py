"""Where pieces go, in the words of a label: unit, room and spot, and the building where a job has several."""

from __future__ import annotations

from collections import defaultdict

from nesting.domain.plan import Plan
from nesting.domain.runs import Place


def spread_jobs(plan: Plan) -> frozenset[str]:
    """Give the jobs that go into several buildings: unit 101 alone does not tell which door to go to."""
    buildings: defaultdict[str, set[str]] = defaultdict(set)
    for run in plan.request.runs:
        buildings[run.job].add(run.place.building)
    for line in plan.request.piece_lines:
        buildings[line.job].add(line.place.building)
    for piece in plan.pieces:
        buildings[piece.job].add(piece.place.building)
    return frozenset(job for job, known in buildings.items() if len(known) > 1)


def room_words(place: Place, *, spread: bool = False) -> str:
    """
    Give the part of a place that goes on a label: unit, room and spot, else the floor.

    Parameters
    ----------
    spread
        Whether the job goes into several buildings, so that its building is said as well.
    """
    inside = " / ".join(p for p in (place.unit, place.room, place.spot) if p) or place.floor
    if spread or not inside:
        return " / ".join(p for p in (place.building, inside) if p)
    return inside


def rooms_by_piece(plan: Plan) -> dict[str, str]:
    """Give where every piece goes by its id."""
    spread = spread_jobs(plan)
    return {piece.id: room_words(piece.place, spread=piece.job in spread) for piece in plan.pieces}
