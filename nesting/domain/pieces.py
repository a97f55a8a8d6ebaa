"""What has to be sawn, each piece with its identity."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nesting.domain.material import Material, Part
from nesting.domain.mitre import SQUARE
from nesting.domain.runs import NO_PLACE, EndCondition, Place
from nesting.errors import NOWHERE, Where
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """
    One piece to be sawn.

    Parameters
    ----------
    id
        Unique in the plan, readable: ``OY-305-2``, with ``.2`` for the second copy, ``/1`` for the
        first section of a jointed run and ``c`` at the end for a separately cut cover.
    job, run, copy, section, sections
        Identity: which run of which job, which of its copies, which of its sections (from 1).
    material
        Group it belongs to.
    length
        What the saw is set to: the exact length rounded to the saw's step. Of a mitred piece its
        centre line, which is its true metal; the saw is set to its ``long_point``.
    exact
        Length by the formulas, before rounding; of a mitred piece the centre line, up to a nanometre.
    cover_length
        Length the cover comes to when it is cut together with this channel piece, the long point of
        a mitred one; None otherwise.
    long_point
        Length of a mitred piece along its longer edge, rounded to the saw's step; None for a square one.
    slope_left, slope_right
        Slopes of its faces in degrees, see `nesting.takeoff.mitres.slopes`; 0 is square.
    """

    id: str
    job: str
    run: str
    copy: int = 1
    section: int = 1
    sections: int = 1
    material: Material
    length: Length
    exact: Length
    cover_length: Length | None = None
    long_point: Length | None = None
    slope_left: Fraction = SQUARE
    slope_right: Fraction = SQUARE
    left: EndCondition = EndCondition.BARE
    right: EndCondition = EndCondition.BARE
    place: Place = NO_PLACE
    where: Where = NOWHERE

    @property
    def part(self) -> Part:
        """Channel or cover."""
        return self.material.part

    @property
    def mitred(self) -> bool:
        """Whether a face of it is sloped."""
        return self.long_point is not None

    @property
    def stop(self) -> Length:
        """What the saw's stop is set to: the long point of a mitred piece, else its length."""
        return self.length if self.long_point is None else self.long_point


@dataclass(frozen=True, slots=True, kw_only=True)
class StripCut:
    """
    Strip for one fixture of a run (formula 7 of the take-off).

    Parameters
    ----------
    marks
        Whole cut marks (m).
    length
        Strip length S = m p, rounded down to a nanometre where the pitch is not whole.
    dark
        Channel inside the caps that stays dark.
    for_next_mark
        Channel length that would gain one more mark.
    channel
        Channel length it was fitted to, all sections together, the long point of a mitred one.
    circuits
        Circuits it is divided into, so that none is longer than the data sheet allows.
    parts
        Marks of the pieces it is cut in, from the left: one a circuit, more where a reel is shorter.
    """

    job: str
    run: str
    quantity: int
    marks: int
    length: Length
    dark: Length
    for_next_mark: Length
    channel: Length = NO_LENGTH
    circuits: int = 1
    parts: tuple[int, ...] = ()
