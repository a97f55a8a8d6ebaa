"""The reels of a plan as JSON objects."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field, StrictInt

from nesting.domain.progress import StopReason
from nesting.domain.reels import PlannedReel, ReelCut, ReelPlan
from nesting.exchange.json_numbers import Number
from nesting.exchange.plan_certificate import CertificatePart
from nesting.exchange.plan_part import PlanPart


class ReelCutPart(PlanPart):
    """One piece of strip."""

    domain: ClassVar[type] = ReelCut

    job: str
    """Job."""
    run: str
    """Run it goes into."""
    copy_: StrictInt = Field(alias="copy")
    """Which of the run's like fixtures, from 1."""
    part: StrictInt
    """Which piece of the fixture's strip, from 1 at the left end."""
    marks: StrictInt
    """Length in cut marks."""


class ReelPart(PlanPart):
    """One reel with its pieces in the order they are cut off."""

    domain: ClassVar[type] = PlannedReel

    number: StrictInt
    """Number of the reel, from 1 in its article."""
    cuts: tuple[ReelCutPart, ...]
    """Pieces in order."""
    rest: StrictInt
    """Marks that stay on it."""


class ReelPlanPart(PlanPart):
    """The reels of one article of strip."""

    domain: ClassVar[type] = ReelPlan

    strip: str
    """Article, else the family's name."""
    pitch: Number
    """Distance between cut marks, nanometres; a fraction such as '50000000/3' where not whole."""
    reel_nm: StrictInt
    """Length of a full reel, nanometres."""
    marks: StrictInt
    """Whole marks of a full reel."""
    solder_every_nm: StrictInt | None = None
    """Distance of the factory's solder joints, nanometres; null when there are none."""
    reach_nm: StrictInt
    """What a solderless connector covers, nanometres; 0 for soldered leads."""
    bound: StrictInt
    """Fewest reels that any cutting needs."""
    ended: StopReason
    """Why the search ended."""
    certificate: CertificatePart | None = None
    """What the bound rests on."""
    reels: tuple[ReelPart, ...]
    """The reels."""
