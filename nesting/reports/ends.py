"""A piece's ends and its feed in words, seen facing the lit face."""

from __future__ import annotations

from nesting.domain.electrics import Feed
from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.runs import EndCondition, Run
from nesting.reports.lengths import BothUnits
from nesting.reports.slope_words import end_words
from nesting.takeoff.run_strip import feed_of


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


def feed_words(piece: Piece, run: Run, lengths: BothUnits) -> str:
    """
    Say where the leads enter a channel piece; empty for covers and for sections without a lead.

    Parameters
    ----------
    run
        The run the piece belongs to: of its sections the first has its left end, the last its right one.
    """
    feed = None if piece.part is Part.COVER else feed_of(run)
    if feed is None:
        return ""
    if feed is Feed.BACK:
        if piece.sections > 1:
            # Which section has the hole depends on joints that the fitter may still move.
            return "run fed at the back"
        return "feed back" if run.feed_at is None else f"feed back, {lengths.first(run.feed_at)} from left"
    first, last = piece.section == 1, piece.section == piece.sections
    if feed is Feed.THROUGH and first and last:
        return "feed through"
    left = first and feed is not Feed.RIGHT
    right = last and feed is not Feed.LEFT
    if left and right:
        return "feed both ends"
    return "feed left" if left else "feed right" if right else ""
