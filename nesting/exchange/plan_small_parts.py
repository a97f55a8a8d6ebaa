"""The small parts of a plan as JSON objects."""

from __future__ import annotations

from typing import ClassVar

from pydantic import StrictBool, StrictInt

from nesting.domain.small_parts import (
    AdhesiveLine,
    CapCount,
    CapKind,
    ConnectorLine,
    Hand,
    PartCount,
    SmallParts,
    StripLine,
)
from nesting.exchange.json_numbers import MaybeNumber
from nesting.exchange.plan_part import PlanPart


class CapKindPart(PlanPart):
    """Caps that can be taken from one box."""

    domain: ClassVar[type] = CapKind

    family: str
    """Family."""
    finish: str
    """Finish."""
    hand: Hand
    """Which end it fits, seen facing the lit face; none where both ends take the same cap."""
    holed: StrictBool
    """Whether it has the hole for the leads."""


class CapCountPart(PlanPart):
    """How many caps of one kind are needed."""

    domain: ClassVar[type] = CapCount

    kind: CapKindPart
    """Which cap."""
    count: StrictInt
    """How many."""


class PartCountPart(PlanPart):
    """How many clips or joint sets one family and finish needs."""

    domain: ClassVar[type] = PartCount

    family: str
    """Family."""
    finish: str
    """Finish."""
    count: StrictInt
    """How many."""


class ConnectorPart(PlanPart):
    """Connectors of all runs of a family."""

    domain: ClassVar[type] = ConnectorLine

    family: str
    """Family."""
    feeds: StrictInt
    """Lead entries that bring power in."""
    jumpers: StrictInt
    """Bridges at corners."""


class AdhesivePart(PlanPart):
    """Tape or bead of one family and finish."""

    domain: ClassVar[type] = AdhesiveLine

    family: str
    """Family."""
    finish: str
    """Finish."""
    length_nm: StrictInt
    """Length over all its rows, nanometres."""


class StripLinePart(PlanPart):
    """All strip of one article; the electrical figures are planning aids, never a design."""

    domain: ClassVar[type] = StripLine

    strip: str
    """Article, else the family's name."""
    pieces: StrictInt
    """Pieces to cut."""
    length_nm: StrictInt
    """Their sum, nanometres."""
    watts: MaybeNumber = None
    """Load, watts, a whole number or a fraction such as '21576/5'; null when the strip's is unknown."""
    driver_watts: MaybeNumber = None
    """Least ratings in sum, loaded to 80 %, watts."""
    outputs: StrictInt | None = None
    """Suggested limited-power outputs with every unit on its own; null when none can be suggested."""
    output_watts: MaybeNumber = None
    """Rating of one output, watts."""


class SmallPartsPart(PlanPart):
    """Everything besides bars that the plan's fixtures need."""

    domain: ClassVar[type] = SmallParts

    caps: tuple[CapCountPart, ...] = ()
    """Caps by family, finish, hand and hole."""
    clips: tuple[PartCountPart, ...] = ()
    """Clips by family and finish."""
    joint_sets: tuple[PartCountPart, ...] = ()
    """Joint sets by family and finish."""
    connectors: tuple[ConnectorPart, ...] = ()
    """Connectors by family."""
    adhesive: tuple[AdhesivePart, ...] = ()
    """Adhesive by family and finish."""
    strips: tuple[StripLinePart, ...] = ()
    """Strip by article, with its load."""
