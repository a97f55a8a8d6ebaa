"""
Mitred pieces: their lengths, what the saw takes at a slope, and how pieces lie behind each other.

Lengths are whole nanometres. Where a tangent or secant is irrational the result is rounded up (for
strip: down) to a nanometre, once per term, so that what is said to fit does fit.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from nesting.domain.mitre import SQUARE, Mitre, MitredPiece, MitrePlane, MitrePoint, MitreSection
from nesting.errors import ProblemError
from nesting.takeoff.angles import Enclosure, secant, tangent
from nesting.units import NO_LENGTH, Length

_SIDE = {MitrePoint.LONG: 1, MitrePoint.CENTRE: 0, MitrePoint.SHORT: -1}
_HALF = Fraction(1, 2)

Faces = tuple[Fraction, Fraction]


def mitre_angle(corner: Fraction) -> Fraction:
    """
    Give the mitre angle of a corner, mu = 90 - theta/2, both in degrees: 45 for a right angle.

    Raises
    ------
    ProblemError
        When the corner is not more than 0 and at most 180 degrees (straight on).
    """
    if not 0 < corner <= 180:
        raise ProblemError(f"A corner has more than 0 and at most 180 degrees, not {corner}.")
    return 90 - corner * _HALF


def slopes(left: Mitre | None, right: Mitre | None) -> Faces:
    """
    Give the slopes of a piece's two faces, seen facing the lit face; None is a square end.

    An inside corner leans the face inward from the long edge at the back, an outside corner outward.
    """
    return (
        SQUARE if left is None else (-left.angle if left.outside else left.angle),
        SQUARE if right is None else (right.angle if right.outside else -right.angle),
    )


def slope_mark(slope: Fraction) -> str:
    r"""Give the face as it is drawn on a sheet: ``/``, ``|`` or ``\``."""
    if slope == SQUARE:
        return "|"
    return "/" if slope > 0 else "\\"


def mitred_length(
    length: Length, given: MitrePoint, wanted: MitrePoint, *, width: Length, left: Fraction, right: Fraction
) -> Length:
    """
    Turn a length given along one line of a mitred piece into that along another, rounded up.

    The long edge is C + s and the short one C - s, with s = (w/2) |tan mu_R - tan mu_L|; for two
    ends that lean inward s = (w/2) (tan |mu_L| + tan |mu_R|). Parallel faces have s = 0.

    Parameters
    ----------
    length
        Nanometres, along the line ``given``.
    width
        Extent of the section in the mitre plane (w).
    left, right
        Slopes of the faces in degrees, see `slopes`.
    """
    return Length(_along(length, given, wanted, width=width, left=left, right=right).up())


def room_along(
    length: Length, given: MitrePoint, wanted: MitrePoint, *, width: Length, left: Fraction, right: Fraction
) -> Length:
    """Turn a length as `mitred_length` does, rounded down: for what must go in, such as strip."""
    return Length(_along(length, given, wanted, width=width, left=left, right=right).down())


def lit_length(
    long_point: Length, *, width: Length, left: Fraction, right: Fraction, clearance: Length = NO_LENGTH
) -> Length:
    """
    Give the room for strip in a mitred piece: its short point less a clearance, rounded down.

    The legs of a corner are joined by a jumper lead; strip is never bent round a mitre.
    """
    short = room_along(long_point, MitrePoint.LONG, MitrePoint.SHORT, width=width, left=left, right=right)
    return Length(short - clearance)


def saw_take(kerf: Length, slope: Fraction) -> Length:
    """Give what a stroke takes along the bar, k / cos mu, rounded up."""
    return Length((secant(slope) * kerf).up())


def neighbour_gap(section: MitreSection, kerf: Length, end: Fraction, start: Fraction) -> Length:
    """
    Give the gap on the centre line between two neighbours, rounded up.

    It is (w/2) |tan mu_1 - tan mu_2| + k / cos(max |mu|). Equal slopes share one stroke; unequal
    ones need two and drop a wedge.

    Parameters
    ----------
    end, start
        Slope of the first piece's end and of the next piece's start, degrees.
    """
    steepest = max(abs(end), abs(start))
    wedge = Enclosure.of(0) if end == start else abs(tangent(end) - tangent(start))
    return Length((wedge * (section.width * _HALF) + secant(steepest) * kerf).up())


def turned(faces: Faces, section: MitreSection) -> Faces | None:
    """
    Give the faces of a piece turned end for end with its lit face up; None where it may not be.

    Flat mitres swap ends and keep each slope's sign: (0, -45) becomes (-45, 0), so a leg shares a
    cut with legs of its own slope class only. Standing mitres swap and negate: (0, -45) becomes
    (45, 0), so equal pieces never share, but an inside and an outside corner do. An asymmetric
    section would become the other hand and is never turned.
    """
    left, right = faces
    if not section.symmetric:
        return None
    return (right, left) if section.plane is MitrePlane.FLAT else (-right, -left)


def lies(piece: MitredPiece, section: MitreSection, *, turn: bool) -> Faces:
    """
    Give the faces of a piece as it lies on the bar.

    Raises
    ------
    ProblemError
        When it is to be turned and the section does not allow it.
    """
    faces: Faces | None = (piece.left, piece.right)
    if turn:
        faces = turned((piece.left, piece.right), section)
    if faces is None:
        raise ProblemError(f"Piece {piece.id!r}: an asymmetric section is never turned.")
    return faces


def chain_length(
    pieces: Sequence[MitredPiece], turns: Sequence[bool], section: MitreSection, kerf: Length
) -> Length:
    """
    Give the length of pieces one behind the other, from the first tip to the last, each term up.

    Parameters
    ----------
    pieces
        In the order of the bar; shape ``(n,)``.
    turns
        Whether each is turned end for end; shape ``(n,)``.
    kerf
        Width of the blade (k), nanometres.

    Raises
    ------
    ProblemError
        When nothing is given, or a piece is turned whose section does not allow it.
    """
    if not pieces:
        raise ProblemError("A chain needs a piece.")
    faces = [lies(piece, section, turn=turn) for piece, turn in zip(pieces, turns, strict=True)]
    gaps = (neighbour_gap(section, kerf, before[1], behind[0]) for before, behind in pairwise(faces))
    tips = tip_length(section, faces[0][0]) + tip_length(section, faces[-1][1])
    return Length(sum(piece.centre for piece in pieces) + sum(gaps) + tips)


def end_extra(kerf: Length, slope: Fraction) -> Length:
    """
    Give what a sloped face costs beside a square one, k / cos mu - k, rounded up.

    Head trim and tail loss hold the kerf of a square stroke; a chain that starts or ends with a
    sloped face needs this much more of the bar there.
    """
    return Length(saw_take(kerf, slope) - kerf)


def solver_length(chain: Length, first: Fraction, last: Fraction, kerf: Length) -> Length:
    """
    Give the length at which a mitred piece or chain may be nested like a square piece.

    Tip to tip, and both outer faces' extra kerf: between any two such neighbours, and at both ends
    of the bar, at least the gap of `neighbour_gap` remains. On the safe side by at most one extra
    kerf a cut; shared cuts are won by nesting chains (see `nesting.takeoff.mitre_order`).
    """
    return Length(chain + end_extra(kerf, first) + end_extra(kerf, last))


def _along(
    length: Length, given: MitrePoint, wanted: MitrePoint, *, width: Length, left: Fraction, right: Fraction
) -> Enclosure:
    shift = abs(tangent(right) - tangent(left)) if left != right else Enclosure.of(0)
    return Enclosure.of(length) + shift * (width * _HALF * (_SIDE[wanted] - _SIDE[given]))


def tip_length(section: MitreSection, slope: Fraction) -> Length:
    """Give how far a face's tip stands out beyond its middle, (w/2) |tan mu|, rounded up."""
    return Length((abs(tangent(slope)) * (section.width * _HALF)).up())
