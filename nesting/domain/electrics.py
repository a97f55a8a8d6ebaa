"""The light strip and what feeds it. Every figure here is a planning aid, never a design."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length

PLANNING_AID = (
    "Planning aid only: a qualified person designs to the local code and to the strip's and driver's "
    "data sheets; limited-power outputs are neither paralleled nor exceeded."
)


class Feed(StrEnum):
    """Where the leads enter a run, seen facing the lit face."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"
    BACK = "back"
    THROUGH = "through"

    @property
    def ends_fed(self) -> int:
        """How many ends of the strip get power: two only when both are fed."""
        return 2 if self is Feed.BOTH else 1


@dataclass(frozen=True, slots=True, kw_only=True)
class StripKind:
    """
    One article of strip, from its data sheet.

    Parameters
    ----------
    pitch
        Distance between cut marks (p) in nanometres, a rational.
    watts_per_metre
        Load (q).
    volts
        Supply voltage.
    longest_one_end, longest_both_ends
        Longest circuit fed from one end, and from both; None when the data sheet says nothing.
    reel
        Length of a full reel; None when unknown.
    solder_every
        Distance of the factory's solder joints; None when there are none.
    solderless_reach
        Length a solderless connector covers at a strip end; 0 for soldered leads.
    """

    name: str
    pitch: Fraction
    watts_per_metre: Fraction
    volts: Fraction
    longest_one_end: Length | None = None
    longest_both_ends: Length | None = None
    reel: Length | None = None
    solder_every: Length | None = None
    solderless_reach: Length = NO_LENGTH

    def __post_init__(self) -> None:
        """Refuse what no strip can be."""
        if self.pitch <= 0 or self.watts_per_metre <= 0 or self.volts <= 0:
            raise ProblemError(f"Strip {self.name!r}: pitch, watts and volts must be more than zero.")
        lengths = (self.longest_one_end, self.longest_both_ends, self.reel, self.solder_every)
        if any(length is not None and length <= 0 for length in lengths) or self.solderless_reach < 0:
            raise ProblemError(f"Strip {self.name!r}: lengths must be more than zero.")

    def longest(self, feed: Feed) -> Length | None:
        """Give the longest circuit for a way of feeding."""
        return self.longest_both_ends if feed.ends_fed == 2 else self.longest_one_end
