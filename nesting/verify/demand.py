"""Whether the pieces that are listed are those that were asked for, no more and no fewer."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.verify.piece_lines import piece_line_violations
from nesting.verify.runs import run_violations
from nesting.verify.violation import Violation


def demand_violations(plan: Plan) -> Iterator[Violation]:
    """Give the runs that lack pieces, the pieces nobody asked for, and those of a wrong length."""
    pieces: defaultdict[tuple[str, str], list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        pieces[piece.job, piece.run].append(piece)
    # Runs whose plan says that their cover joints could not be kept off the channel's.
    together = {finding.found for finding in plan.findings if finding.code == "cover-joints-together"}
    exempt = {(u.job, u.run) for u in plan.unplaced if not u.piece}
    for run in plan.request.runs:
        mine = pieces.pop((run.job, run.id), [])
        if (run.job, run.id) not in exempt or mine:
            yield from run_violations(
                plan.request, run, mine, joints_together=f"{run.job} {run.id}" in together
            )
    for line in plan.request.piece_lines:
        mine = pieces.pop((line.job, line.id), [])
        if (line.job, line.id) not in exempt or mine:
            yield from piece_line_violations(plan.request, line, mine)
    for strangers in pieces.values():
        for piece in strangers:
            yield Violation(
                "piece-unasked",
                f"piece {piece.id}",
                f"Piece {piece.id}: job {piece.job} has no run {piece.run}.",
            )
    rows = Counter((row.job, row.id) for row in rows_of(plan.request))
    for (job, name), times in rows.items():
        if times > 1:
            yield Violation("run-twice", f"run {name}", f"Job {job} has {times} runs named {name}.")
    known = rows.keys()
    for job, name in sorted(exempt - known):
        yield Violation(
            "unknown-run", f"run {name}", f"Run {name} is left out, but job {job} has no such run."
        )


def rows_of(request: Request) -> tuple[Run | PieceLine, ...]:
    """Give everything asked for, runs first."""
    return (*request.runs, *request.piece_lines)
