"""From the search's plan back to the caller's bars."""

from __future__ import annotations

from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import Problem
from nesting.solver.columns import Pieces
from nesting.solver.reduce import Reduced
from nesting.solver.search import Plan


def to_packing(problem: Problem, reduced: Reduced, plan: Plan) -> Packing:
    """
    Give the plan on the bars of ``problem``, with no piece beyond those asked for.

    Raises
    ------
    ValueError
        When the plan uses more bars of a kind than are at hand.
    """
    left = list(reduced.demands)
    at_hand = {source: problem.bars[source].count for kind in reduced.kinds for source in kind.sources}
    uses: dict[tuple[int, Pieces], int] = {}
    for pattern, times in plan:
        while times:
            pieces = tuple((i, min(n, left[i])) for i, n in pattern.pieces if left[i])
            if not pieces:
                break
            same = min(left[i] // n for i, n in pieces)
            bar = next((s for s in reduced.kinds[pattern.kind].sources if at_hand[s] != 0), None)
            if bar is None:
                raise ValueError("The plan uses more bars than are at hand.")
            run = min(times, same)
            if (count := at_hand[bar]) is not None:
                run = min(run, count)
                at_hand[bar] = count - run
            uses[bar, pieces] = uses.get((bar, pieces), 0) + run
            for i, n in pieces:
                left[i] -= n * run
            times -= run
    return Packing(
        uses=tuple(PatternUse(bar, pieces, times) for (bar, pieces), times in sorted(uses.items())),
        short=tuple(left),
    )
