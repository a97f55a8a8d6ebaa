"""Where a plan stands and where it may go."""

from __future__ import annotations

from enum import StrEnum


class PlanState(StrEnum):
    """
    Life of a plan.

    ``queued`` and ``solving`` come before there is a plan; ``failed`` ends there. Then ``proposed``,
    ``released`` (its bars and offcuts are kept for it), ``in cutting`` and ``finished``; or
    ``withdrawn`` at any time before.
    """

    QUEUED = "queued"
    SOLVING = "solving"
    FAILED = "failed"
    PROPOSED = "proposed"
    RELEASED = "released"
    IN_CUTTING = "in cutting"
    FINISHED = "finished"
    WITHDRAWN = "withdrawn"

    @property
    def to_do(self) -> bool:
        """Whether a worker still has to make or finish the plan."""
        return self in (PlanState.QUEUED, PlanState.SOLVING)

    @property
    def released_before(self) -> bool:
        """Whether the plan has bars to report on."""
        return self in (PlanState.RELEASED, PlanState.IN_CUTTING)


class BarState(StrEnum):
    """What became of a bar of a released plan."""

    OPEN = "open"
    CUT = "cut"
    DEFECT = "defect"
    MISSING = "missing"
    WITHDRAWN = "withdrawn"
