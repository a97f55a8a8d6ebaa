"""The pieces of a plan as JSON objects: what is sawn of which material, strips, what is left out."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field, StrictInt

from nesting.domain.material import Material
from nesting.domain.material import Part as SawnPart
from nesting.domain.mitre import SQUARE
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.plan import Unplaced
from nesting.domain.runs import EndCondition
from nesting.exchange.json_numbers import Number
from nesting.exchange.plan_part import PlanPart
from nesting.exchange.request_findings import WherePart
from nesting.exchange.request_lines import PlacePart


class MaterialPart(PlanPart):
    """What must not be mixed in one group."""

    domain: ClassVar[type] = Material

    family: str
    """Family."""
    finish: str
    """Finish."""
    part: SawnPart
    """Channel or cover."""
    lot: str = ""
    """Lot, or the job, that binds the pieces together; empty when any finish lot will do."""


class PiecePart(PlanPart):
    """One piece to be sawn."""

    domain: ClassVar[type] = Piece

    id: str
    """Unique in the plan."""
    job: str
    """Job."""
    run: str
    """Run, or line of the piece list, in the job."""
    copy_: StrictInt = Field(alias="copy")
    """Which of the run's like fixtures, from 1."""
    section: StrictInt
    """Which section of a jointed run, from 1."""
    sections: StrictInt
    """Sections of the run."""
    material: MaterialPart
    """What it is cut from."""
    length_nm: StrictInt
    """What the saw is set to, nanometres."""
    exact_nm: StrictInt
    """Length by the formulas, before rounding, nanometres."""
    cover_length_nm: StrictInt | None = None
    """Length of the cover that is cut together with it, nanometres; null when none is."""
    long_point_nm: StrictInt | None = None
    """Longer edge of a mitred piece, nanometres; its length is then its centre line. Null when square."""
    slope_left: Number = SQUARE
    """Slope of its left face, degrees; positive leans like `/`, 0 is square."""
    slope_right: Number = SQUARE
    """Slope of its right face, degrees."""
    left: EndCondition
    """What is at its left end."""
    right: EndCondition
    """What is at its right end."""
    place: PlacePart = PlacePart()
    """Where it goes."""
    where: WherePart | None = None
    """Where its line stood in the user's own list."""


class StripPart(PlanPart):
    """Strip for one fixture of a run."""

    domain: ClassVar[type] = StripCut

    job: str
    """Job."""
    run: str
    """Run."""
    quantity: StrictInt
    """Like fixtures."""
    marks: StrictInt
    """Whole cut marks."""
    length_nm: StrictInt
    """Length of the strip, nanometres."""
    dark_nm: StrictInt
    """Channel inside the caps that stays dark, nanometres."""
    for_next_mark_nm: StrictInt
    """Channel length that would gain one more mark, nanometres."""
    channel_nm: StrictInt = 0
    """Channel length it was fitted to, nanometres."""
    circuits: StrictInt = 1
    """Circuits it is divided into."""
    parts: tuple[StrictInt, ...] = ()
    """Marks of the pieces it is cut in, from the left."""


class UnplacedPart(PlanPart):
    """A piece, or a whole run, that the plan leaves out."""

    domain: ClassVar[type] = Unplaced

    job: str
    """Job."""
    run: str
    """Run."""
    piece: str
    """Piece; empty when the whole run is left out."""
    length_nm: StrictInt
    """Its length, nanometres."""
    reason: str
    """Why, in words."""
    code: str
    """Why, for programs."""
    where: WherePart | None = None
    """Where its line stood in the user's own list."""
