"""What was asked for: runs of fixtures, or pieces somebody has already taken off."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from nesting.domain.material import Part, SplitRule
from nesting.errors import NOWHERE, ProblemError, Where
from nesting.units import Length


class LengthKind(StrEnum):
    """What the given length measures."""

    OPENING = "opening"
    FINISHED = "finished"
    CHANNEL = "channel"


class EndCondition(StrEnum):
    """What is at one end of a run."""

    SOLID_CAP = "solid cap"
    HOLED_CAP = "holed cap"
    BARE = "bare"
    JOINT = "joint"

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
    place: Place = NO_PLACE
    note: str = ""
    where: Where = NOWHERE
    extra: tuple[tuple[str, str], ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        """Refuse what cannot be made."""
        if self.quantity < 1:
            raise ProblemError(f"Run {self.id!r}: quantity {self.quantity}; at least 1 is needed.")
        if self.length <= 0:
            raise ProblemError(f"Run {self.id!r}: the length must be more than zero.")


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
    note: str = ""
    where: Where = NOWHERE
    extra: tuple[tuple[str, str], ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        """Refuse what cannot be sawn."""
        if self.quantity < 1:
            raise ProblemError(f"Piece {self.id!r}: quantity {self.quantity}; at least 1 is needed.")
        if self.length <= 0:
            raise ProblemError(f"Piece {self.id!r}: the length must be more than zero.")
