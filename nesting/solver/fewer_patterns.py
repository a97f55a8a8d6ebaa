"""The same bars with fewer different patterns, so that the saw is set up less often."""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd
from time import monotonic
from typing import TYPE_CHECKING

from nesting.domain.packing import Packing, PatternUse, cost_of, remainder
from nesting.domain.problem import Problem
from nesting.domain.progress import Progress
from nesting.stop import NEVER, Stop
from nesting.units import NO_LENGTH, Length

if TYPE_CHECKING:
    from nesting.solver.fewer_patterns_search import Plan

_NO_LIMIT = 1 << 40


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternLimits:
    """
    What a pattern may hold beside what the bar holds.

    Parameters
    ----------
    most_pieces, most_lengths
        Pieces, and different stop settings, on one bar.
    least_fill
        Pieces and their kerfs must fill at least so much, nanometres.
    """

    most_pieces: int = _NO_LIMIT
    most_lengths: int = _NO_LIMIT
    least_fill: Length = NO_LENGTH


NO_LIMITS = PatternLimits()


def pattern_count(packing: Packing) -> int:
    """Give the number of different patterns: kinds of bar with what is cut from them."""
    return len({(use.bar, use.pieces) for use in packing.uses})


def fewer_patterns(
    problem: Problem,
    packing: Packing,
    *,
    seed: int = 0,
    stop: Stop = NEVER,
    rounds: int = 12,
    limits: PatternLimits = NO_LIMITS,
    more_scrap: int = 0,
) -> Packing:
    """
    Give a plan with fewer different patterns that opens the same bars, and cuts the same pieces.

    Of every kind of bar at most as many are opened as before, so the cost never rises; neither does
    the scrap by more than ``more_scrap``. Among equally few patterns, fewer different lengths a bar
    are better. Patterns are combined 2 to 1, 3 to 2 and so on by exact search (Foerster and
    Waescher, 2000, IJPR 38:1657-1676), and parts of the plan are laid out anew from a linear
    programme over whole runs.

    Parameters
    ----------
    seed
        Repeats the same answer, as long as ``stop`` does not cut the search short.
    stop
        Asked once a round.
    rounds
        Parts of the plan that are laid out anew.
    limits
        Kept wherever a pattern is new; patterns of ``packing`` may break them and stay.
    more_scrap
        Nanometres of scrap that may be added.
    """
    merged = _merged(packing)
    if len(merged.uses) < 2:
        return merged
    from nesting.solver.fewer_patterns_search import PatternSearch

    begun = monotonic()
    search = PatternSearch(_plan(problem, merged, limits, more_scrap), seed, least_patterns(problem, merged))
    for number in range(rounds):
        now = Progress(
            group=problem.name,
            phase="patterns",
            best=cost_of(problem, merged),
            rounds=number,
            elapsed=monotonic() - begun,
        )
        if stop(now) is not None or search.settled:
            break
        search.round()
    return _packing(search.best, merged.short)


def least_patterns(problem: Problem, packing: Packing) -> int:
    """
    Give a number of patterns that no plan with these pieces can do without.

    Every length that is cut needs a place in some pattern, and the patterns' bars have only so much
    room: the lengths, once each, need at least sum(a + k) / (longest room) bars, rounded up.
    """
    cut = {i for use in packing.uses for i, _ in use.pieces}
    if not cut:
        return 0
    room = max(bar.usable for bar in problem.bars) + problem.kerf
    return -(-sum(problem.lengths[i] + problem.kerf for i in cut) // room)


def _merged(packing: Packing) -> Packing:
    uses: dict[tuple[int, tuple[tuple[int, int], ...]], int] = {}
    for use in packing.uses:
        uses[use.bar, use.pieces] = uses.get((use.bar, use.pieces), 0) + use.times
    return Packing(
        uses=tuple(PatternUse(bar, pieces, times) for (bar, pieces), times in sorted(uses.items())),
        short=packing.short,
    )


def _plan(problem: Problem, packing: Packing, limits: PatternLimits, more_scrap: int) -> Plan:
    """Fold the kerf into sizes and divide by their greatest common divisor, as whole numbers."""
    import numpy as np

    from nesting.solver.fewer_patterns_search import Plan

    sizes = [length + problem.kerf for length in problem.lengths]
    unit = gcd(*sizes)
    patterns = np.zeros((len(packing.uses), len(sizes)), np.int64)
    for row, use in enumerate(packing.uses):
        for i, n in use.pieces:
            patterns[row, i] = n
    rooms = [(bar.usable + problem.kerf) // unit for bar in problem.bars]
    # An empty bar leaves the remainder L - h; what a bar of full units would leave is the rest of it.
    rests = [remainder(problem, b, ()) + problem.kerf - room * unit for b, room in enumerate(rooms)]
    return Plan(
        sizes=np.array([size // unit for size in sizes], np.int64),
        rooms=np.array(rooms, np.int64),
        fewest=np.full(len(rooms), -(-limits.least_fill // unit), np.int64),
        most_pieces=limits.most_pieces,
        most_lengths=limits.most_lengths,
        unit=unit,
        # tail = r - k with r = (L - h + k) - sum(a + k)
        scrap_rule=np.array([(rest - problem.kerf, problem.keep_length) for rest in rests], np.int64),
        spare_scrap=more_scrap,
        patterns=patterns,
        times=np.array([use.times for use in packing.uses], np.int64),
        kinds=np.array([use.bar for use in packing.uses], np.int64),
    )


def _packing(plan: Plan, short: tuple[int, ...]) -> Packing:
    uses = []
    for row, times, kind in zip(plan.patterns, plan.times, plan.kinds, strict=True):
        pieces = tuple((i, int(n)) for i, n in enumerate(row) if n)
        if pieces:
            uses.append(PatternUse(int(kind), pieces, int(times)))
    return _merged(Packing(tuple(uses), short))
