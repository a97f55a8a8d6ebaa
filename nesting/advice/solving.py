"""Groups solved once each, within one time limit for all of them."""

from __future__ import annotations

import time
from dataclasses import dataclass, field, replace
from fractions import Fraction

from nesting.batch.watch import Flag
from nesting.domain.buying import Spares
from nesting.domain.problem import Problem
from nesting.domain.progress import Progress, StopReason
from nesting.planning.group import Group
from nesting.planning.settle import Settled, settle
from nesting.purchasing.market import Market
from nesting.stop import Stop


class OutOfTime(Exception):
    """No time is left for further comparisons."""


@dataclass(slots=True)
class Solver:
    """
    Solves groups; the same pieces on the same bars are solved once.

    Parameters
    ----------
    seconds
        For everything together; None for no limit.
    """

    seed: int
    seconds: float | None
    cancel: Flag
    _until: float | None = None
    _questions: int = 1
    _needed: bool = True
    _began: float = field(default_factory=time.monotonic)
    _known: dict[tuple[Problem, Market, Spares], Settled] = field(default_factory=dict)

    def begin(self, share: Fraction, questions: int, *, needed: bool) -> None:
        """
        Give so many questions to come a share of the time that is left, in equal parts.

        What one leaves over goes to those behind it.

        Parameters
        ----------
        needed
            Whether each is to be answered even when no time is left: with a plan that is not searched for.
        """
        self._questions, self._needed = max(questions, 1), needed
        if self.seconds is not None:
            now = time.monotonic()
            self._until = now + float(share) * max(self._began + self.seconds - now, 0.0)

    def settle(self, group: Group) -> Settled:
        """
        Solve a group on the prices really paid, as well as its part of the time allows.

        Raises
        ------
        OutOfTime
            When somebody cancels, or when no time is left for what is not needed.
        """
        now = time.monotonic()
        left = None if self._until is None else max(self._until - now, 0.0) / self._questions
        self._questions = max(self._questions - 1, 1)
        key = (replace(group.problem, name=""), group.market, group.spares)
        if key not in self._known:
            if self.cancel.is_set() or (left == 0.0 and not self._needed):
                raise OutOfTime
            end = None if left is None else now + left
            settled = settle(group, seed=self.seed, stop=self._stop(end))
            if settled.result.ended is StopReason.CANCELLED:
                raise OutOfTime
            self._known[key] = settled
        return self._known[key]

    def _stop(self, end: float | None) -> Stop:
        def stop(now: Progress) -> StopReason | None:
            if self.cancel.is_set():
                return StopReason.CANCELLED
            return StopReason.TIME if end is not None and time.monotonic() > end else None

        return stop


def ordered(settled: Settled) -> int:
    """Give the bars ordered of the material itself, covers that go with it left out."""
    deals, uses = settled.bill.deals, settled.group.market.uses
    own = {kinds[0] for kinds in uses if kinds}
    return sum(deals[o].bars for o in own) if deals else 0


def covers_ordered(settled: Settled) -> int:
    """Give the cover bars ordered to go with the channel."""
    deals, uses = settled.bill.deals, settled.group.market.uses
    covers = {o for kinds in uses for o in kinds[1:]}
    return sum(deals[o].bars for o in covers) if deals else 0
