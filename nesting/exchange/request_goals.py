"""What a plan should be good at beside its cost, as a JSON object."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field, StrictBool, StrictInt

from nesting.domain.goals import MOST_IN_A_GANG, Goals, Slivers
from nesting.exchange.request_part import RequestPart


class GoalsPart(RequestPart):
    """What the plan should be good at beside its cost; only the ban on slivers may raise it."""

    domain: ClassVar[type] = Goals
    silent: ClassVar[frozenset[str]] = frozenset(
        {"fewer_patterns", "gang", "open_units", "long_tail", "slivers"}
    )

    fewer_patterns: StrictBool = False
    """Whether to look for fewer different patterns, and fewer moves of the stop, on the same bars."""
    gang: Annotated[StrictInt, Field(ge=1, le=MOST_IN_A_GANG)] = 1
    """Bars of one pattern clamped side by side and cut with one stroke."""
    open_units: StrictBool = False
    """Whether to order the bars so that few units are half finished at once."""
    long_tail: StrictBool = False
    """Whether to collect what is left over in one tail as long as can be."""
    slivers: Slivers = Slivers.WARN
    """warn or forbid: last strokes with less than a kerf of metal in them."""
