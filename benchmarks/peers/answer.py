"""What a peer gives back, and the sizes every peer starts from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import gcd
from typing import Protocol

from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """
    A peer's plan and what it proves.

    Parameters
    ----------
    packing
        The plan; None when the method found none in time.
    bound
        Proven lower bound on the cost; None when the method gives none.
    ended
        Why it stopped, in plain words.
    """

    packing: Packing | None
    bound: int | None = None
    ended: str = ""


class Peer(Protocol):
    """A method that can be compared."""

    def __call__(self, problem: Problem, *, time_limit: float) -> Answer:
        """Give the best plan found within ``time_limit`` seconds."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """
    A problem in whole units without kerf: sum(a + k) <= L - h - e + k, divided by the common unit.

    Parameters
    ----------
    pieces
        Size of each length, longest first, shape ``(m,)``.
    capacities
        Capacity of each kind of bar, shape ``(number of bars,)``.
    """

    pieces: tuple[int, ...]
    capacities: tuple[int, ...]


def sizes(problem: Problem) -> Sizes:
    """
    Give sizes and capacities in the largest unit that divides every size.

    Raises
    ------
    ValueError
        When a kind of bar is limited; peers are written for unlimited supply.
    """
    if any(bar.count is not None for bar in problem.bars):
        raise ValueError("Peers compare on unlimited bars only.")
    pieces = [length + problem.kerf for length in problem.lengths]
    unit = gcd(*pieces)
    return Sizes(
        pieces=tuple(size // unit for size in pieces),
        # Rounding a capacity down loses nothing: every sum of pieces is a whole number of units.
        capacities=tuple((bar.usable + problem.kerf) // unit for bar in problem.bars),
    )


def packing_of(problem: Problem, bars: Iterable[tuple[int, Counter[int]]]) -> Packing:
    """
    Give the packing of single bars, pieces made in excess taken out again.

    Parameters
    ----------
    bars
        For each bar its kind and how many pieces of each length lie on it.
    """
    left = list(problem.counts)
    uses: Counter[tuple[int, tuple[tuple[int, int], ...]]] = Counter()
    for kind, content in bars:
        kept = {i: min(n, left[i]) for i, n in content.items()}
        for i, n in kept.items():
            left[i] -= n
        pattern = tuple(sorted((i, n) for i, n in kept.items() if n))
        if pattern:
            uses[kind, pattern] += 1
    return Packing(
        uses=tuple(PatternUse(kind, pattern, times) for (kind, pattern), times in sorted(uses.items())),
        short=tuple(left),
    )
