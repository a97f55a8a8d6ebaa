"""Whether a plan still says what it was asked: its id, and where each piece belongs."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.domain.digest import plan_id
from nesting.domain.plan import Plan
from nesting.verify.violation import Violation


def origin_violations(plan: Plan) -> Iterator[Violation]:
    """
    Give what was changed in the request of a plan, or between it and the pieces.

    Lengths, prices, names and rules are all in the id, so a request edited after planning no longer
    has the plan's id. A plan that follows a report has an id of another kind and is not checked so.
    """
    expected = plan_id(plan.request, plan.seed)
    if not plan.follows and plan.id != expected:
        yield Violation(
            "plan-id",
            f"plan {plan.id}",
            f"The request in this plan has the id {expected}, the plan says {plan.id}: one of them was "
            "changed after planning. Plan the request again.",
        )
    asked = {(run.job, run.id): run.place for run in plan.request.runs}
    asked |= {(line.job, line.id): line.place for line in plan.request.piece_lines}
    for piece in plan.pieces:
        place = asked.get((piece.job, piece.run))
        if place is not None and place != piece.place:
            yield Violation(
                "piece-place",
                f"piece {piece.id}",
                f"Piece {piece.id} is marked for {str(piece.place) or 'no place'}, its run goes to "
                f"{str(place) or 'no place'}.",
            )
