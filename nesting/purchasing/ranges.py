"""The ranges of bars that may still hold something better, in the order in which they are looked at."""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field

from nesting.purchasing.box import Box


@dataclass(order=True, slots=True)
class _Waiting:
    bound: int
    number: int
    box: Box = field(compare=False)


class Ranges:
    """
    Ranges still to be looked at, and those that were given up.

    A range in which only the cutting is in doubt may take all the time there is, and what the others find
    can settle it: such ranges wait for all others.
    """

    def __init__(self) -> None:
        self._open: list[_Waiting] = []
        self._hanging: list[_Waiting] = []
        self._unsettled: list[int] = []
        self._made = 0

    def clear(self) -> None:
        """Forget all of them."""
        self._open.clear()
        self._hanging.clear()
        self._unsettled.clear()

    def add(self, box: Box) -> None:
        """Have a range looked at in its turn."""
        self._push(self._open, box)

    def hang(self, box: Box) -> None:
        """Have a range looked at once nothing but the cutting is in doubt anywhere."""
        self._push(self._hanging, box)

    def give_up(self, box: Box) -> None:
        """Keep the bound of a range that nothing more can be done about."""
        self._unsettled.append(box.bound)

    def next(self, cost: int) -> tuple[Box, bool] | None:
        """
        Take the range of the lowest bound.

        Returns
        -------
        The range and whether it hangs on the cutting; None when no range can hold less than ``cost``.
        """
        for waiting in (self._open, self._hanging):
            if waiting and waiting[0].bound < cost:
                return heapq.heappop(waiting).box, waiting is self._hanging
        return None

    def bound(self, cost: int) -> int:
        """Give what is proved when nothing below ``cost`` is in any other range."""
        waiting = (entry.bound for entry in (*self._open, *self._hanging))
        return min([cost, *self._unsettled, *waiting])

    def _push(self, waiting: list[_Waiting], box: Box) -> None:
        self._made += 1
        heapq.heappush(waiting, _Waiting(box.bound, self._made, box))
