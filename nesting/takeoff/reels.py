"""Strip nested on reels by whole cut marks, and where a solder joint would be in the way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction

from nesting.domain.problem import BarKind, Problem
from nesting.units import NO_LENGTH, Length

REEL = "reel"


def marks_on(reel: Length, pitch: Fraction) -> int:
    """Give the whole cut marks of a reel, R = floor(reel / p): 300 in 5 m of 50/3 mm exactly."""
    return int(reel // pitch)


def reel_problem(pieces: Iterable[int], reel_marks: int, *, name: str = "", keep_marks: int = 0) -> Problem:
    """
    Give the nesting problem of strip on reels, all lengths in marks; scissors have no kerf.

    Parameters
    ----------
    pieces
        Marks of each piece.
    reel_marks
        Marks of a full reel; reels are unlimited and cost 1 each.
    keep_marks
        A reel's rest at least this long goes back on the shelf.

    Raises
    ------
    ProblemError
        When a piece is longer than a reel or has no mark.
    """
    counts = Counter(pieces)
    lengths = sorted(counts, reverse=True)
    return Problem(
        name=name,
        lengths=tuple(Length(marks) for marks in lengths),
        counts=tuple(counts[marks] for marks in lengths),
        bars=(BarKind(key=REEL, length=Length(reel_marks)),),
        kerf=NO_LENGTH,
        keep_length=Length(keep_marks),
    )


def cuts_at_solder_joints(
    pieces: Sequence[int], pitch: Fraction, solder_every: Length, reach: Length
) -> tuple[int, ...]:
    """
    Give the ends of pieces where a solderless connector would sit on a factory solder joint.

    Joints lie at whole multiples of their distance from the reel's start. Cutting at a joint is
    allowed, pressing a connector on it is not: the strip end there is soldered.

    Parameters
    ----------
    pieces
        Marks of the pieces in the order they come off one reel.
    pitch
        Distance between cut marks, nanometres.
    solder_every
        Distance of the solder joints, nanometres.
    reach
        Length a solderless connector covers at a strip end.

    Returns
    -------
    Cuts in marks from the reel's start, ascending; both ends of a piece carry a connector.
    """
    hit = []
    at = 0
    for marks in pieces:
        at += marks
        past = at * pitch % solder_every
        if min(past, solder_every - past) < max(reach, 1):
            hit.append(at)
    return tuple(hit)
