"""Which pieces rest on a size that nobody has verified on site, and what must be said of them."""

from __future__ import annotations

from collections.abc import Container

from nesting.domain.plan import Plan, PlannedBar
from nesting.domain.status import Status
from nesting.reports.whereabouts import numbers_words

MARK = "VERIFY"


def statuses(plan: Plan) -> dict[tuple[str, str], Status]:
    """Give how sure the size of each run or row of a piece list is, by job and id."""
    runs = {(run.job, run.id): run.status for run in plan.request.runs}
    return runs | {(line.job, line.id): line.status for line in plan.request.piece_lines}


def unverified(plan: Plan) -> frozenset[str]:
    """Give the ids of the pieces, placed or not, whose size is from a drawing, to be verified or on hold."""
    known = statuses(plan)
    return frozenset(
        piece.id
        for piece in plan.pieces
        if known.get((piece.job, piece.run), Status.MEASURED) is not Status.MEASURED
    )


def unverified_cuts(bar: PlannedBar, marked: Container[str]) -> tuple[int, ...]:
    """Give the numbers of a bar's cuts whose pieces are marked, from 1."""
    return tuple(order for order, cut in enumerate(bar.cuts, start=1) if cut.piece in marked)


def cuts_warning(orders: tuple[int, ...]) -> str:
    """Say at the bar which of its cuts must wait for a size taken on site; empty when none has to."""
    if not orders:
        return ""
    several = len(orders) > 1
    which = f"{MARK} CUT{'S' if several else ''} {numbers_words(orders)}"
    if several:
        return f"{which}: sizes not verified on site. Do not cut them before they are measured."
    return f"{which}: size not verified on site. Do not cut it before it is measured."


def unverified_words(plan: Plan) -> str:
    """Say how many of the planned pieces must not be cut yet; empty when all sizes are measured."""
    marked = unverified(plan)
    placed = [cut.piece for group in plan.groups for bar in group.bars for cut in bar.good_cuts]
    count = sum(1 for piece in placed if piece in marked)
    if not count:
        return ""
    come, them, sizes = ("comes", "it", "a size") if count == 1 else ("come", "them", "sizes")
    pieces = "piece" if len(placed) == 1 else "pieces"
    return f"{count} of {len(placed)} {pieces} {come} from {sizes} not yet verified: do not cut {them}."
