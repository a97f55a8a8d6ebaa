"""What counts of a mitred piece: the length it is nested at, its faces, the widest stroke at its ends."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from nesting.domain.mitre import SQUARE, MitreSection
from nesting.domain.pieces import Piece
from nesting.planning.group import Group
from nesting.takeoff.mitres import saw_take, turned
from nesting.units import Length

UNIT = 10_000
"""
What sloped lengths are rounded to, in nanometres.

They are seldom whole, and the engine's tables grow with their finest unit, so it sees them in hundredths
of a millimetre: single pieces rounded down (a bound stays a bound), chains up (what fits fits).
"""
Kind = tuple[Length, Fraction, Fraction]
"""Centre line and the slopes of both ends."""


def nested_length(piece: Piece) -> Length:
    """Give the length a piece has in a problem of centre lines: a mitred one's down to 0.01 mm."""
    return Length(piece.length // UNIT * UNIT) if piece.mitred else piece.length


def kind_length(kind: Kind) -> Length:
    """Give the length that pieces of a kind have in a problem of centre lines."""
    length, *faces = kind
    return Length(length // UNIT * UNIT) if any(faces) else length


def kind_of(piece: Piece, section: MitreSection) -> Kind:
    """Give what matters of a piece at the saw, the same for a piece and its turned twin."""
    faces = (piece.slope_left, piece.slope_right)
    other = turned(faces, section)
    return (piece.length, *(min(faces, other) if other is not None else faces))


def section_of(group: Group) -> MitreSection:
    """
    Give the section at a group's mitres.

    Raises
    ------
    ValueError
        When it has no mitred pieces.
    """
    if group.mitre is None:
        raise ValueError(f"{group.material} has no mitred pieces.")
    return group.mitre


def widest_stroke(pieces: Sequence[Piece], kerf: Length) -> Length:
    """Give the most that a stroke at an end of any of these pieces takes of the bar."""
    slopes = {SQUARE, *(slope for piece in pieces for slope in (piece.slope_left, piece.slope_right))}
    return max(saw_take(kerf, slope) for slope in slopes)
