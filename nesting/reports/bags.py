"""The bag of small parts that goes into each unit's box: caps, clips, joint sets, connectors, strip."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from nesting.domain.pieces import Piece, StripCut
from nesting.domain.plan import Plan
from nesting.domain.runs import Place, Run
from nesting.domain.small_parts import SmallParts
from nesting.reports.small_part_words import PartRow, small_part_rows
from nesting.takeoff.small_parts import small_parts_of

UnitKey = tuple[str, str, str, str]
"""Job, building, floor and unit."""

_IN_NO_BAG = frozenset({"load", "driver"})


def unit_key(job: str, place: Place) -> UnitKey:
    """Give what a unit's box is known by."""
    return job, place.building, place.floor, place.unit


def unit_bags(plan: Plan) -> dict[UnitKey, SmallParts]:
    """
    Count every unit's small parts by the same formulas as the whole plan's.

    Counts of all bags add up to the plan's, but where a corner lies between two units: each then gets
    its own bridge. Empty in plans that do not count small parts.
    """
    if plan.small_parts is None:
        return {}
    runs: defaultdict[UnitKey, list[Run]] = defaultdict(list)
    pieces: defaultdict[UnitKey, list[Piece]] = defaultdict(list)
    strips: defaultdict[UnitKey, list[StripCut]] = defaultdict(list)
    homes: dict[tuple[str, str], UnitKey] = {}
    for run in plan.request.runs:
        homes[run.job, run.id] = unit_key(run.job, run.place)
        runs[homes[run.job, run.id]].append(run)
    for piece in plan.pieces:
        if (piece.job, piece.run) in homes:
            pieces[homes[piece.job, piece.run]].append(piece)
    for strip in plan.strips:
        strips[homes[strip.job, strip.run]].append(strip)
    return {
        key: small_parts_of(replace(plan.request, runs=tuple(own)), pieces[key], strips[key])
        for key, own in runs.items()
    }


def bag_rows(parts: SmallParts) -> tuple[PartRow, ...]:
    """Give what is counted or measured into a bag; watts and drivers are advice and go into none."""
    rows = small_part_rows(parts)
    return tuple(row for row in rows if row.part not in _IN_NO_BAG and (row.count or row.amount))
