"""The solver's anonymous answer: which pattern on which kind of bar, how often."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.problem import Problem
from nesting.units import Length


@dataclass(frozen=True, slots=True, order=True)
class PatternUse:
    """
    One cutting pattern, cut ``times`` times.

    Parameters
    ----------
    bar
        Index into ``Problem.bars``.
    pieces
        Pairs (index into ``Problem.lengths``, how many), index ascending, counts at least 1.
    times
        Number of bars cut so.
    """

    bar: int
    pieces: tuple[tuple[int, int], ...]
    times: int


@dataclass(frozen=True, slots=True)
class Packing:
    """
    All patterns of one group.

    Parameters
    ----------
    uses
        The patterns.
    short
        Pieces of each length that the limited stock could not give, shape ``(m,)``; all zero when
        everything is placed.
    """

    uses: tuple[PatternUse, ...]
    short: tuple[int, ...]


def remainder(problem: Problem, bar: int, pieces: tuple[tuple[int, int], ...]) -> Length:
    """
    Give r = L - h - sum(a) - (n - 1) k, what is left behind the last piece before its last stroke.

    The pattern fits when r is at least the bar's tail loss.
    """
    kind = problem.bars[bar]
    total = sum(problem.lengths[i] * n for i, n in pieces)
    strokes = max(sum(n for _, n in pieces) - 1, 0)
    return Length(kind.length - kind.head - total - strokes * problem.kerf)


def tail_of(problem: Problem, bar: int, pieces: tuple[tuple[int, int], ...]) -> Length:
    """Give the tail after the last stroke, max(r - k, 0)."""
    return Length(max(remainder(problem, bar, pieces) - problem.kerf, 0))


def scrap_of(problem: Problem, bar: int, pieces: tuple[tuple[int, int], ...]) -> int:
    """Give the tail when it is too short to keep, else 0."""
    tail = tail_of(problem, bar, pieces)
    return 0 if tail >= problem.keep_length else int(tail)


def total_scrap(problem: Problem, packing: Packing) -> int:
    """Give the length of all tails too short to keep, nanometres."""
    return sum(scrap_of(problem, use.bar, use.pieces) * use.times for use in packing.uses)


def cost_of(problem: Problem, packing: Packing) -> int:
    """Give the sum of the opened bars' costs."""
    return sum(problem.bars[use.bar].cost * use.times for use in packing.uses)
