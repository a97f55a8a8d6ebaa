"""Whether a plan cuts only what its purpose allows, and leaves out nothing that it should take."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.domain.plan import Plan
from nesting.domain.status import Purpose, Status
from nesting.verify.demand import rows_of
from nesting.verify.violation import Violation

_CODES = ("on-hold", "not-measured")


def release_violations(plan: Plan) -> Iterator[Violation]:
    """Give the runs that are cut though they must not be, and those left out for no such reason."""
    cut = {(piece.job, piece.run) for piece in plan.pieces}
    left_out = {(u.job, u.run) for u in plan.unplaced if not u.piece and u.code in _CODES}
    for row in rows_of(plan.request):
        allowed = row.status is Status.MEASURED or (
            plan.request.purpose is Purpose.ORDER and row.status is not Status.HOLD
        )
        name, key = f"run {row.id}", (row.job, row.id)
        if not allowed and key in cut:
            yield Violation(
                "not-released",
                name,
                f"Run {row.id} is {row.status.value}; a plan to {plan.request.purpose.value} must leave it.",
            )
        if allowed and key in left_out:
            yield Violation(
                "left-out", name, f"Run {row.id} is {row.status.value} and is left out as if it were not."
            )
