"""
Bars that are never cut so that the last stroke has less than a kerf of metal in it.

With r = L - h - sum(a) - (n - 1) k behind the last piece, r = 0 needs no last stroke, r >= k is an
ordinary one, and 0 < r < k is a sliver. The solver knows only r >= e. Where e > 0, asking for
r >= max(e, k) says the same as no sliver. Where e = 0 it would also forbid bars that come out exactly;
those are kept as far as a plan with slivers has them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

from nesting.domain.goals import Goals, Slivers
from nesting.domain.packing import Packing, PatternUse, remainder
from nesting.domain.problem import BarKind, Problem
from nesting.units import Length

Solve = Callable[[Problem], Packing]


def sliver_count(problem: Problem, packing: Packing) -> int:
    """Give the number of bars whose last stroke has less than a kerf of metal."""
    return sum(use.times for use in packing.uses if _leaves_sliver(problem, use))


def can_sliver(problem: Problem) -> bool:
    """Whether any bar's tail loss leaves room for a sliver."""
    return any(bar.tail < problem.kerf for bar in problem.bars)


def is_exact(problem: Problem) -> bool:
    """Whether `sparing` forbids slivers and nothing else."""
    return all(bar.tail > 0 or not problem.kerf for bar in problem.bars)


def sparing(problem: Problem, stroke: Length | None = None) -> Problem | None:
    """
    Give the problem with a whole stroke behind every last piece; None when a length has no bar then.

    Parameters
    ----------
    stroke
        What the last stroke takes; None for a kerf.
    """
    least = problem.kerf if stroke is None else stroke
    bars = tuple(replace(bar, tail=max(bar.tail, least)) for bar in problem.bars)
    if problem.lengths and max(bar.usable for bar in bars) < problem.lengths[0]:
        return None
    return replace(problem, bars=bars)


def gives(bar: BarKind, length: Length, *, kerf: Length, goals: Goals, exactly: bool = True) -> bool:
    """
    Whether a bar gives one piece of some length, without a sliver where these are forbidden.

    Parameters
    ----------
    kerf
        What the last stroke takes of the bar.
    exactly
        Whether a piece may end where the bar does.
    """
    rest = bar.usable - length
    if rest < 0:
        return False
    behind = rest + bar.tail
    return goals.slivers is Slivers.WARN or (exactly and behind == 0) or behind >= kerf


def mended(problem: Problem, packing: Packing, solve: Solve) -> Packing:
    """
    Keep the bars of a packing that leave no sliver and lay out the pieces of the others anew.

    Parameters
    ----------
    solve
        Finds a packing for the pieces of the others on the bars that are left.
    """
    kept = tuple(use for use in packing.uses if not _leaves_sliver(problem, use))
    wanted = Counter(dict(enumerate(packing.short)))
    for use in packing.uses:
        if use not in kept:
            wanted.update({i: n * use.times for i, n in use.pieces})
    taken = Counter[int]()
    for use in kept:
        taken[use.bar] += use.times
    kinds = [
        (b, replace(bar, count=left, tail=max(bar.tail, problem.kerf)))
        for b, bar in enumerate(problem.bars)
        if (left := None if bar.count is None else bar.count - taken[b]) != 0
    ]
    longest = max((bar.usable for _, bar in kinds), default=Length(0))
    places = [i for i, n in sorted(wanted.items()) if n and problem.lengths[i] <= longest]
    short = [wanted[i] if i not in places else 0 for i in range(len(problem.lengths))]
    if not places:
        return Packing(kept, tuple(short))
    part = replace(
        problem,
        lengths=tuple(problem.lengths[i] for i in places),
        counts=tuple(wanted[i] for i in places),
        bars=tuple(bar for _, bar in kinds),
    )
    found = solve(part)
    for i, n in zip(places, found.short, strict=True):
        short[i] += n
    fresh = (
        PatternUse(kinds[use.bar][0], tuple((places[i], n) for i, n in use.pieces), use.times)
        for use in found.uses
    )
    return Packing((*kept, *fresh), tuple(short))


def _leaves_sliver(problem: Problem, use: PatternUse) -> bool:
    return 0 < remainder(problem, use.bar, use.pieces) < problem.kerf
