"""Which runs a plan takes, by what it is for and how sure their sizes are."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.plan import Unplaced
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.domain.status import Status

_REASONS = {
    Status.HOLD: ("on-hold", "it is on hold"),
    Status.DRAWING: ("not-measured", "its size is from a drawing; a cut plan takes measured sizes only"),
    Status.VERIFY: ("not-measured", "its size is to be verified; a cut plan takes measured sizes only"),
}


def for_purpose(request: Request) -> tuple[Request, tuple[Unplaced, ...]]:
    """
    Give the request with the runs and piece lines its purpose takes, and the others with the reason.

    An order takes everything but what is on hold, so that bars can be ordered from drawings; a cut plan
    takes measured sizes only, since a piece cut from a drawing is often cut twice.
    """
    takes = request.purpose.takes
    left_out = (
        *(_left_out(run) for run in request.runs if not takes(run.status)),
        *(_left_out(line) for line in request.piece_lines if not takes(line.status)),
    )
    if not left_out:
        return request, ()
    taken = replace(
        request,
        runs=tuple(run for run in request.runs if takes(run.status)),
        piece_lines=tuple(line for line in request.piece_lines if takes(line.status)),
    )
    return taken, left_out


def _left_out(row: Run | PieceLine) -> Unplaced:
    code, reason = _REASONS[row.status]
    return Unplaced(
        job=row.job, run=row.id, piece="", length=row.length, reason=reason, code=code, where=row.where
    )
