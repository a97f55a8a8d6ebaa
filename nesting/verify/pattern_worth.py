"""Whether any pattern that fits is worth more than a limit: exact, in whole numbers of any size."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate


class TooLarge(Exception):
    """The search would look at more partial patterns than allowed."""


@dataclass(slots=True)
class Work:
    """Partial patterns that may still be looked at, shared by several searches."""

    left: int

    def spend(self, amount: int) -> None:
        """
        Take some off.

        Raises
        ------
        TooLarge
            When nothing is left.
        """
        self.left -= amount
        if self.left < 0:
            raise TooLarge


def worth_above(
    sizes: Sequence[int],
    worths: Sequence[int],
    counts: Sequence[int],
    capacity: int,
    limit: int,
    work: Work,
) -> int | None:
    """
    Give the worth of a pattern that exceeds the limit; None when even the dearest does not.

    Bounded knapsack by dynamic programming over the totals that can be reached, piece by piece in
    order of worth per size. A partial pattern is dropped when another one of no larger total is worth
    as much, or when filling up with fractions of the pieces still to come stays within the limit.

    Parameters
    ----------
    sizes, worths, counts
        Of each kind of piece, shape ``(m,)``; sizes at least 1, worths not negative.

    Raises
    ------
    TooLarge
        When the work allowed is used up.
    """
    order = [i for i in range(len(sizes)) if worths[i] > 0 and sizes[i] <= capacity and counts[i] > 0]
    order.sort(key=lambda i: Fraction(-worths[i], sizes[i]))
    filled = _Filled([(sizes[i], worths[i], counts[i]) for i in order])
    if limit < 0:
        return 0  # the empty pattern
    # Total size -> greatest worth, kept so that a larger total is always worth more.
    reached: dict[int, int] = {0: 0} if filled.most(0, capacity) > limit else {}
    for position, i in enumerate(order):
        grown = dict(reached)
        for total, worth in reached.items():
            copies = min(counts[i], (capacity - total) // sizes[i])
            work.spend(copies + 1)
            for copy in range(1, copies + 1):
                larger, dearer = total + copy * sizes[i], worth + copy * worths[i]
                if grown.get(larger, -1) < dearer:
                    grown[larger] = dearer
        reached = {}
        top = -1
        for total in sorted(grown):
            worth = grown[total]
            if worth <= top:
                continue
            top = worth
            if worth > limit:
                return worth
            if worth + filled.most(position + 1, capacity - total) > limit:
                reached[total] = worth
    return None


class _Filled:
    """Greatest worth that fractions of the pieces from a position on can add, rounded down."""

    def __init__(self, pieces: Sequence[tuple[int, int, int]]) -> None:
        self._pieces = pieces
        self._sizes = [0, *accumulate(size * count for size, _, count in pieces)]
        self._worths = [0, *accumulate(worth * count for _, worth, count in pieces)]

    def most(self, position: int, room: int) -> int:
        if position >= len(self._pieces):
            return 0
        end = self._sizes[position] + room
        # Last piece that still goes in whole, with all its copies.
        whole = bisect_right(self._sizes, end) - 1
        added = self._worths[whole] - self._worths[position]
        if whole < len(self._pieces):
            size, worth, _ = self._pieces[whole]
            added += (end - self._sizes[whole]) * worth // size
        return added
