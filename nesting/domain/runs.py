"""What was asked for: runs of fixtures, or pieces somebody has already taken off."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from nesting.domain.dates import day_of
from nesting.domain.electrics import Feed
from nesting.domain.material import Part, SplitRule
from nesting.domain.mitre import Mitre, MitrePlane, MitrePoint
from nesting.domain.status import Status
from nesting.errors import NOWHERE, ProblemError, Where
from nesting.units import Length


class LengthKind(StrEnum):
    """What the given length measures."""

    OPENING = "opening"
    FINISHED = "finished"
    CHANNEL = "channel"
    LONG_POINT = "long point"
    SHORT_POINT = "short point"
    CENTRE_LINE = "centre line"

    @property
    def point(self) -> MitrePoint:
        """Along which line of a mitred run it is measured; anything else counts as its long point."""
        return {
            LengthKind.SHORT_POINT: MitrePoint.SHORT,
            LengthKind.CENTRE_LINE: MitrePoint.CENTRE,
        }.get(self, MitrePoint.LONG)


class EndCondition(StrEnum):
    """What is at one end of a run."""

    SOLID_CAP = "solid cap"
    HOLED_CAP = "holed cap"
    BARE = "bare"
    JOINT = "joint"
    MITRE = "mitre"

    @property
    def capped(self) -> bool:
        """Whether a cap sits at this end."""
        return self in (EndCondition.SOLID_CAP, EndCondition.HOLED_CAP)


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where in the building a run goes; empty texts where the list said nothing."""

    building: str = ""
    floor: str = ""
    unit: str = ""
    room: str = ""
    spot: str = ""

    def __str__(self) -> str:
        """Give the known levels from large to small."""
        return " / ".join(p for p in (self.building, self.floor, self.unit, self.room, self.spot) if p)


NO_PLACE = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """
    One line of a run list: ``quantity`` like fixtures, seen facing the lit face.

    Parameters
    ----------
    job, id
        The run's id is unique in its job.
    length, kind
        Measured size (W) and what it measures.
    left, right
        End conditions.
    clearance_left, clearance_right
        Clearance at each end of an opening; None takes the family's.
    split_rule
        None takes the family's.
    lot
        Named finish lot, when the list binds this run to one.
    feed, feed_at
        Where the leads enter, None when the list does not say; for a back exit its distance from
        the left end.
    mitre_left, mitre_right
        The corner at a mitred end.
    partner_left, partner_right
        Id of the run of the same job that the corner goes on to, when the list says.
    status
        How sure the size is.
    priority
        The larger, the more urgent: its pieces are cut first, and are the last to go short.
    due
        Day by which it is wanted, ISO 8601 (2027-03-31); of one priority the earlier day comes first.
    extra
        Columns we do not know, kept for the way back: (heading, text) pairs.
    """

    job: str
    id: str
    family: str
    finish: str = ""
    quantity: int = 1
    length: Length
    kind: LengthKind = LengthKind.FINISHED
    left: EndCondition = EndCondition.SOLID_CAP
    right: EndCondition = EndCondition.SOLID_CAP
    clearance_left: Length | None = None
    clearance_right: Length | None = None
    split_rule: SplitRule | None = None
    lot: str = ""
    feed: Feed | None = None
    feed_at: Length | None = None
    mitre_left: Mitre | None = None
    mitre_right: Mitre | None = None
    partner_left: str = ""
    partner_right: str = ""
    place: Place = NO_PLACE
    status: Status = Status.MEASURED
    priority: int = 0
    due: str = ""
    note: str = ""
    where: Where = NOWHERE
    extra: tuple[tuple[str, str], ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        """Refuse what cannot be made."""
        if self.quantity < 1:
            raise ProblemError(f"Run {self.id!r}: quantity {self.quantity}; at least 1 is needed.")
        if self.length <= 0:
            raise ProblemError(f"Run {self.id!r}: the length must be more than zero.")
        if self.due:
            day_of(self.due)
        for end, mitre, partner in (
            (self.left, self.mitre_left, self.partner_left),
            (self.right, self.mitre_right, self.partner_right),
        ):
            if (mitre is not None) is not (end is EndCondition.MITRE):
                raise ProblemError(
                    f"Run {self.id!r}: a mitred end needs its corner, and no other end has one."
                )
            if partner and mitre is None:
                raise ProblemError(f"Run {self.id!r}: only a mitred end has a partner run.")
        if len({mitre.plane for mitre in self.mitres}) > 1:
            raise ProblemError(f"Run {self.id!r}: both mitres must lie in one plane.")
        if self.feed_at is not None and (self.feed is not Feed.BACK or self.feed_at < 0):
            raise ProblemError(f"Run {self.id!r}: only a back exit has a place along the run.")

    @property
    def mitres(self) -> tuple[Mitre, ...]:
        """The corners at its ends, none for a straight run."""
        return tuple(mitre for mitre in (self.mitre_left, self.mitre_right) if mitre is not None)

    @property
    def plane(self) -> MitrePlane | None:
        """The plane of its corners; None for a straight run."""
        return self.mitres[0].plane if self.mitres else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One line of a piece list: ``quantity`` pieces of one cut length, taken off by the user."""

    job: str
    id: str
    family: str
    finish: str = ""
    part: Part = Part.CHANNEL
    quantity: int = 1
    length: Length
    lot: str = ""
    place: Place = NO_PLACE
    status: Status = Status.MEASURED
    priority: int = 0
    due: str = ""
    note: str = ""
    where: Where = NOWHERE
    extra: tuple[tuple[str, str], ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        """Refuse what cannot be sawn."""
        if self.quantity < 1:
            raise ProblemError(f"Piece {self.id!r}: quantity {self.quantity}; at least 1 is needed.")
        if self.length <= 0:
            raise ProblemError(f"Piece {self.id!r}: the length must be more than zero.")
        if self.due:
            day_of(self.due)
