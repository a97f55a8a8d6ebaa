"""Jobs as they are sent and answered."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any

from pydantic import BaseModel, Field

from api.plans.states import PlanState
from api.web.inputs import Body, Word
from api.web.lengths import LengthRead, Moment

JobId = Annotated[str, Field(pattern="^[0-9a-f]{32}$")]


class JobStatus(StrEnum):
    """
    The least advanced thing that is still to happen for a job.

    ``withdrawn``: a plan was withdrawn when some of it was cut, and nobody has planned the rest again.
    """

    COLLECTED = "collected"
    PLANNING = "planning"
    WITHDRAWN = "withdrawn"
    PROPOSED = "proposed"
    RELEASED = "released"
    IN_CUTTING = "in cutting"
    FINISHED = "finished"
    EMPTY = "empty"


class JobPlanRead(BaseModel):
    """What the job takes from one plan."""

    plan: str
    state: PlanState
    pieces: int = Field(description="Pieces placed.")
    unplaced: int = Field(description="Pieces or runs left out.")
    done: int = Field(description="Pieces cut.")
    good: LengthRead = Field(description="Length of the pieces.")
    consumed: LengthRead = Field(description="Share of the metal used up.")
    cost: str | None = Field(description="Share of the bars' prices; null when a price is unknown.")
    currency: str


class JobRead(BaseModel):
    """A customer job across all the plans it is in."""

    id: str
    name: str
    created_at: Moment
    status: JobStatus
    lines: int = Field(description="Runs and piece lines collected.")
    waiting: int = Field(description="Of these, in no plan yet.")
    pieces: int = Field(description="Pieces in released plans.")
    done: int = Field(description="Of these, cut.")
    good: LengthRead = Field(description="Length of the pieces in released plans.")
    consumed: LengthRead = Field(description="Metal used up by them.")
    cost: dict[str, str] = Field(
        description="Their cost by currency; plans in which a price is unknown are left out."
    )
    plans: list[JobPlanRead] = Field(description="Every plan with a part of the job, latest first.")


class CollectedRead(BaseModel):
    """What came in for the jobs."""

    jobs: list[JobRead]
    new: int = Field(description="Lines that are new.")
    replaced: int = Field(description="Lines of a known id that have changed.")
    same: int = Field(description="Lines that were there already, word for word.")


class JobsPlan(Body):
    """Which jobs to plan, together or apart, and on which saw."""

    jobs: list[JobId] = Field(min_length=1, max_length=500)
    together: bool = Field(default=True, description="One plan for all, or one for each job.")
    title: Word = ""
    currency: Annotated[str, Field(pattern="^([A-Z]{3})?$")] = ""
    saw: dict[str, Any] = Field(
        default={}, description="As in a request document; blanks take common values."
    )
    cover_saw: dict[str, Any] | None = Field(default=None, description="As in a request document.")
