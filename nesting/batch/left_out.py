"""Why a piece is not cut, as the plan says it."""

from __future__ import annotations

from nesting.domain.pieces import Piece
from nesting.domain.plan import Unplaced


def left_out(piece: Piece, code: str, reason: str) -> Unplaced:
    """Give a piece that the plan leaves out, with the reason in words and its stable code."""
    return Unplaced(
        job=piece.job,
        run=piece.run,
        piece=piece.id,
        length=piece.length,
        reason=reason,
        code=code,
        where=piece.where,
    )


def used_up(piece: Piece) -> Unplaced:
    """Give a piece for which no bar on hand is left."""
    return left_out(piece, "stock-used-up", f"the bars on hand of {piece.material} are used up")


def unfinished(piece: Piece) -> Unplaced:
    """Give a piece of a fixture that the bars on hand cannot finish."""
    return left_out(
        piece,
        "fixture-short",
        "the bars on hand do not finish this fixture, so none of its pieces is cut",
    )
