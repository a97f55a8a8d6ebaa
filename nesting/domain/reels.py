"""Strip on its reels: which piece comes off which reel, in whole cut marks."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nesting.domain.progress import Certificate, StopReason
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class ReelCut:
    """
    One piece of strip.

    Parameters
    ----------
    job, run, copy
        The fixture it goes into.
    part
        Which piece of the fixture's strip, from 1 at the left end.
    marks
        Its length in cut marks.
    """

    job: str
    run: str
    copy: int
    part: int
    marks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedReel:
    """
    One reel with its pieces in the order they are cut off.

    Parameters
    ----------
    number
        From 1 in its article.
    rest
        Marks that stay on it.
    """

    number: int
    cuts: tuple[ReelCut, ...]
    rest: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReelPlan:
    """
    The reels of one article of strip; scissors take nothing away.

    Parameters
    ----------
    strip
        Article, else the family's name.
    pitch
        Distance between cut marks, nanometres.
    reel, marks
        Length of a full reel and its whole marks.
    solder_every, reach
        Distance of the factory's solder joints (None for none), and what a solderless connector covers.
    bound
        Fewest reels that any cutting needs, proved.
    """

    strip: str
    pitch: Fraction
    reel: Length
    marks: int
    solder_every: Length | None
    reach: Length
    reels: tuple[PlannedReel, ...]
    bound: int
    ended: StopReason
    certificate: Certificate | None = None

    @property
    def proved(self) -> bool:
        """Whether fewer reels are impossible."""
        return self.bound >= len(self.reels)
