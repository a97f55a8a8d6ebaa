"""Whole building, floor by floor, unit by unit: what ordering and cutting in parts costs."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from nesting.advice.comparison import Grouping
from nesting.advice.solving import Solver, ordered
from nesting.batch.split import split
from nesting.domain.material import Material
from nesting.domain.pieces import Piece
from nesting.domain.request import Request

LEVELS = ("whole", "floor", "unit")


def groupings(request: Request, pieces: Sequence[Piece], solver: Solver) -> Iterator[Grouping]:
    """
    Give the cost of planning everything together and in parts; levels that divide nothing are left out.

    Every part is planned on new bars alone: neither offcuts nor bars on hand are counted, and what one part
    leaves over is not used for the next.
    """
    fresh = replace(
        request, offcuts=(), stock=tuple(replace(line, on_hand=0, hand_value=None) for line in request.stock)
    )
    for level, parts in divisions(pieces):
        yield _grouping(fresh, level, parts, solver)


def divisions(pieces: Sequence[Piece]) -> Iterator[tuple[str, list[list[Piece]]]]:
    """Give each level that divides the pieces further than the one before, with its parts."""
    parts_before = 0
    for level in LEVELS:
        parts: defaultdict[tuple[str, ...], list[Piece]] = defaultdict(list)
        for piece in pieces:
            parts[_part(piece, level)].append(piece)
        if len(parts) > parts_before:
            parts_before = len(parts)
            yield level, list(parts.values())


def questions(pieces: Sequence[Piece]) -> int:
    """Give how many groups at most the groupings pose: the materials of every part of every level."""
    return sum(len({piece.material for piece in part}) for _, parts in divisions(pieces) for part in parts)


def _part(piece: Piece, level: str) -> tuple[str, ...]:
    place = piece.place
    if level == "whole":
        return ()
    floor = (piece.job, place.building, place.floor)
    return floor if level == "floor" else (*floor, place.unit)


def _grouping(request: Request, level: str, parts: Sequence[Sequence[Piece]], solver: Solver) -> Grouping:
    costs: Counter[Material] = Counter()
    bars = bound = left_out = 0
    proved = True
    for pieces in parts:
        for chain in split(request, pieces).chains:
            for group in chain:
                settled = solver.settle(group)
                costs[group.material] += settled.result.cost
                bars += ordered(settled)
                bound += settled.result.bound
                proved = proved and settled.result.proved
                left_out += sum(settled.result.best.short)
    return Grouping(
        level=level,
        parts=len(parts),
        bars=bars,
        cost=costs.total(),
        proved=proved and not left_out,
        # What leaves pieces out may cost less than any plan of them all: its bound says nothing of them.
        bound=None if proved or left_out else bound,
        left_out=left_out,
        costs=tuple(sorted(costs.items(), key=lambda item: item[0])),
    )
