"""A piece's ends in words, seen facing the lit face."""

from __future__ import annotations

from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.runs import EndCondition
from nesting.reports.slope_words import end_words


def ends_words(piece: Piece) -> str:
    """
    Say what sits at the left and at the right end.

    A cover carries no cap of its own, and a piece with two bare ends says nothing: a piece list
    does not tell what its ends become.
    """
    if piece.part is Part.COVER or piece.left is piece.right is EndCondition.BARE:
        return ""
    left, right = end_words(piece)
    return f"left {left}, right {right}"
