"""Which runs come first: by their priority, then by their day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from nesting.domain.dates import day_of
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run

Ranks = Mapping[tuple[str, str], int]
"""Rank of each (job, run), 0 the most urgent; runs of one priority and day share a rank."""
NO_RANKS: Ranks = {}


def ranks_of(request: Request) -> Ranks:
    """Rank the runs and piece lines of a request: the largest priority first, then the earliest day."""
    rows: tuple[Run | PieceLine, ...] = (*request.runs, *request.piece_lines)
    keys = {(row.job, row.id): (-row.priority, day_of(row.due) if row.due else date.max) for row in rows}
    place = {key: rank for rank, key in enumerate(sorted(set(keys.values())))}
    return {row: place[key] for row, key in keys.items()}


def rank_of(piece: Piece, ranks: Ranks) -> int:
    """Give the rank of the run a piece is for."""
    return ranks.get((piece.job, piece.run), 0)
