"""Mitred ends: angle, plane and side of a corner, and a piece as its two sloped faces."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.errors import ProblemError
from nesting.units import Length

SQUARE = Fraction(0)
STEEPEST = Fraction(80)  # no mitre saw turns further; keeps tangents and kerfs of a sane size


class MitrePlane(StrEnum):
    """
    The plane a corner turns in.

    *Flat*: the run turns in the plane of its lit face (a cove round a ceiling). *Standing*: it
    climbs or falls (up a wall), so the section's height takes the place of its width.
    """

    FLAT = "flat"
    STANDING = "standing"


class MitrePoint(StrEnum):
    """Along which line the length of a mitred piece is given."""

    LONG = "long point"
    SHORT = "short point"
    CENTRE = "centre line"


@dataclass(frozen=True, slots=True)
class Mitre:
    """
    One mitred end.

    Parameters
    ----------
    angle
        Mitre angle from square in degrees (mu), see `nesting.takeoff.mitres.mitre_angle`.
    outside
        Whether the corner is an outside corner, which leans the face the other way.
    plane
        Flat or standing.
    """

    angle: Fraction
    outside: bool = False
    plane: MitrePlane = MitrePlane.FLAT

    def __post_init__(self) -> None:
        """Refuse angles no saw can be set to."""
        if not 0 <= self.angle <= STEEPEST:
            raise ProblemError(f"A mitre angle lies between 0 and {STEEPEST} degrees, not {self.angle}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreSection:
    """
    What of a channel's section matters at a mitre.

    Parameters
    ----------
    width
        Extent of the section in the mitre plane (w): its width for flat mitres, its height for
        standing ones; nanometres.
    symmetric
        Whether the section is left-right symmetric, so that a piece may be turned end for end.
    plane
        The plane of its mitres; one bar has mitres of one plane.
    """

    width: Length
    symmetric: bool
    plane: MitrePlane = MitrePlane.FLAT

    def __post_init__(self) -> None:
        """Refuse sections of no width."""
        if self.width <= 0:
            raise ProblemError("A mitred section needs a width.")


@dataclass(frozen=True, slots=True, kw_only=True)
class MitredPiece:
    r"""
    A piece by its centre line and the slopes of its two faces.

    A face of slope mu runs along x = x_0 + y tan mu, y across the bar: positive leans like ``/``,
    negative like ``\``, 0 is square.

    Parameters
    ----------
    id
        Name of the piece.
    centre
        Length along the centre line (C), nanometres.
    left, right
        Slopes of its faces in degrees, as the piece lies unturned.
    """

    id: str
    centre: Length
    left: Fraction = SQUARE
    right: Fraction = SQUARE

    def __post_init__(self) -> None:
        """Refuse what cannot be sawn."""
        if self.centre <= 0:
            raise ProblemError(f"Piece {self.id!r}: the length must be more than zero.")
        if max(abs(self.left), abs(self.right)) > STEEPEST:
            raise ProblemError(f"Piece {self.id!r}: a face steeper than {STEEPEST} degrees.")
