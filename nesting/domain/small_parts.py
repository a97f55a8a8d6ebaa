"""The parts that come in a bag: caps, clips, joint sets, adhesive, connectors; and the strip in sum."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length


class Hand(StrEnum):
    """Which end a cap fits, seen facing the lit face; none where both ends take the same cap."""

    LEFT = "left"
    RIGHT = "right"
    NONE = "none"


@dataclass(frozen=True, slots=True, order=True)
class CapKind:
    """
    Caps that can be taken from one box.

    Parameters
    ----------
    hand
        `Hand.NONE` in families whose caps fit both ends.
    holed
        Whether it has the hole for the leads.
    """

    family: str
    finish: str
    hand: Hand
    holed: bool


@dataclass(frozen=True, slots=True, order=True)
class CapCount:
    """How many caps of one kind are needed."""

    kind: CapKind
    count: int


@dataclass(frozen=True, slots=True, order=True)
class PartCount:
    """How many clips or joint sets one family and finish needs."""

    family: str
    finish: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ClipRule:
    """
    How a channel is held.

    Parameters
    ----------
    edge
        First and last clip's distance from the channel's ends (d), nanometres.
    pitch
        Largest distance between clips (s).
    single_below
        A channel shorter than this takes one clip in its middle; 0 gives every channel two.
    """

    edge: Length
    pitch: Length
    single_below: Length = NO_LENGTH

    def __post_init__(self) -> None:
        """Refuse what nobody can mount by."""
        if self.pitch <= 0:
            raise ProblemError("The clip pitch must be more than zero.")
        if self.edge < 0 or self.single_below < 0:
            raise ProblemError("Clip distances must not be negative.")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClipFit:
    """
    The clips of one channel piece.

    Parameters
    ----------
    positions
        Centres from the channel's left end, nanometres, ascending; rounded down to a nanometre.
    spacing
        Distance between neighbours, exact; 0 for a single clip.
    """

    positions: tuple[Length, ...]
    spacing: Fraction

    @property
    def count(self) -> int:
        """Number of clips (N)."""
        return len(self.positions)


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorCount:
    """
    Connectors of one run.

    Parameters
    ----------
    feeds
        Lead entries that bring power in.
    jumpers
        Bridges between neighbouring strips, at corners and where a strip is interrupted.
    """

    feeds: int
    jumpers: int

    @property
    def connectors(self) -> int:
        """Number of connectors, feeds and jumpers."""
        return self.feeds + self.jumpers

    @property
    def leads(self) -> int:
        """Number of leads, two for each connector."""
        return 2 * self.connectors


@dataclass(frozen=True, slots=True, order=True, kw_only=True)
class ConnectorLine:
    """The connectors of all runs of a family: lead entries and bridges at corners."""

    family: str
    feeds: int
    jumpers: int


@dataclass(frozen=True, slots=True, order=True)
class AdhesiveLine:
    """Tape or bead of one family and finish, nanometres over all its rows."""

    family: str
    finish: str
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLine:
    """
    All strip of one article; the electrical figures are planning aids, never a design.

    Parameters
    ----------
    strip
        Article, else the family's name.
    pieces, length
        Pieces to cut and their sum, nanometres.
    watts
        Load; None when the strip's watts are unknown.
    driver_watts
        Sum of the least ratings, load over the share of a driver that is planned on.
    outputs, output_watts
        Suggested limited-power outputs, units kept apart, and the rating of one; None when no such
        limit is known for the voltage, or a circuit alone is more than an output carries.
    """

    strip: str
    pieces: int
    length: int
    watts: Fraction | None = None
    driver_watts: Fraction | None = None
    outputs: int | None = None
    output_watts: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallParts:
    """
    Everything besides bars that the plan's fixtures need.

    Runs that the plan leaves out whole are not counted.
    """

    caps: tuple[CapCount, ...] = ()
    clips: tuple[PartCount, ...] = ()
    joint_sets: tuple[PartCount, ...] = ()
    connectors: tuple[ConnectorLine, ...] = ()
    adhesive: tuple[AdhesiveLine, ...] = ()
    strips: tuple[StripLine, ...] = ()
