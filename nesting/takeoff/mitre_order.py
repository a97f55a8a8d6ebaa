"""The shortest order and turning of a few mitred pieces on one bar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from nesting.domain.mitre import MitredPiece, MitreSection
from nesting.errors import ProblemError
from nesting.takeoff.mitres import Faces, chain_length, end_extra, lies, neighbour_gap, tip_length, turned
from nesting.units import NO_LENGTH, Length

MOST_EXACT = 10  # 2^10 sets x 20 ways to end: a tenth of a second; doubles with every piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """
    Mitred pieces in the order they are sawn from one bar.

    Parameters
    ----------
    pieces, turns
        In order, and whether each is turned end for end; shape ``(n,)``.
    faces
        Slopes of each as it lies, degrees.
    length
        From the first tip to the last, nanometres.
    needed
        Bar it needs: the length, both trims and the extra kerf of sloped outer faces.
    shared
        Strokes that end one piece and start the next with one slope, square ones included.
    strokes
        All strokes between the pieces: one where shared, else two.
    """

    pieces: tuple[MitredPiece, ...]
    turns: tuple[bool, ...]
    faces: tuple[Faces, ...]
    length: Length
    needed: Length
    shared: int
    strokes: int


def chain_of(
    pieces: Sequence[MitredPiece],
    turns: Sequence[bool],
    section: MitreSection,
    kerf: Length,
    *,
    head: Length = NO_LENGTH,
    tail: Length = NO_LENGTH,
) -> Chain:
    """
    Measure a given order of pieces on a bar.

    Parameters
    ----------
    head, tail
        Head trim (h) and tail loss (e) of the bar; at a clean end (0) a sloped face costs nothing
        extra, since its tip may lie on the end.

    Raises
    ------
    ProblemError
        When nothing is given, or a piece is turned whose section does not allow it.
    """
    length = chain_length(pieces, turns, section, kerf)
    faces = tuple(lies(piece, section, turn=turn) for piece, turn in zip(pieces, turns, strict=True))
    shared = sum(before[1] == behind[0] for before, behind in pairwise(faces))
    ends = _bar_end(head, kerf, faces[0][0]) + _bar_end(tail, kerf, faces[-1][1])
    return Chain(
        pieces=tuple(pieces),
        turns=tuple(turns),
        faces=faces,
        length=length,
        needed=Length(length + ends),
        shared=shared,
        strokes=2 * (len(faces) - 1) - shared,
    )


def best_chain(
    pieces: Sequence[MitredPiece],
    section: MitreSection,
    kerf: Length,
    *,
    head: Length = NO_LENGTH,
    tail: Length = NO_LENGTH,
) -> Chain:
    """
    Give the order and turning that need the least bar, exactly; the first in the list among equals.

    Dynamic programming over sets of pieces (Held and Karp, J. SIAM 10, 1962): the cost of a chain
    is a sum over its neighbours and its two ends.

    Raises
    ------
    ProblemError
        When there is no piece, or there are more than ``MOST_EXACT``.
    """
    if not 1 <= len(pieces) <= MOST_EXACT:
        raise ProblemError(f"An exact order takes 1 to {MOST_EXACT} pieces, not {len(pieces)}.")
    ways = [
        (number, turn, lies(piece, section, turn=turn))
        for number, piece in enumerate(pieces)
        for turn in (False, True)
        if not turn or turned((piece.left, piece.right), section) is not None
    ]
    gap = [[neighbour_gap(section, kerf, one[2][1], other[2][0]) for other in ways] for one in ways]
    start = [_outer(section, head, kerf, way[2][0]) for way in ways]
    stop = [_outer(section, tail, kerf, way[2][1]) for way in ways]

    # set of pieces and last way -> (cost, ways in order); tuples compare, so ties fall to the list
    best: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {
        (1 << way[0], last): (start[last], (last,)) for last, way in enumerate(ways)
    }
    for _ in range(len(pieces) - 1):
        longer: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {}
        for (laid, last), (cost, order) in best.items():
            for following, (number, _, _) in enumerate(ways):
                if laid >> number & 1:
                    continue
                state = (laid | 1 << number, following)
                candidate = (cost + gap[last][following], (*order, following))
                if state not in longer or candidate < longer[state]:
                    longer[state] = candidate
        best = longer
    _, order = min((cost + stop[last], order) for (_, last), (cost, order) in best.items())
    return chain_of(
        [pieces[ways[way][0]] for way in order],
        [ways[way][1] for way in order],
        section,
        kerf,
        head=head,
        tail=tail,
    )


def _bar_end(trim: Length, kerf: Length, slope: Fraction) -> int:
    """Give the trim, with a sloped face's extra kerf where the end is trimmed at all."""
    return trim + end_extra(kerf, slope) if trim else 0


def _outer(section: MitreSection, trim: Length, kerf: Length, slope: Fraction) -> int:
    """Give what a face costs at the end of the bar, its tip included."""
    tip = tip_length(section, slope)
    return tip + _bar_end(trim, kerf, slope)
