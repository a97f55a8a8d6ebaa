"""Groups solved once each, within one time limit for all of them."""

from __future__ import annotations

import time
from dataclasses import dataclass, field, replace

from nesting.batch.watch import Flag
from nesting.domain.buying import Spares
from nesting.domain.problem import Problem
from nesting.domain.progress import Progress, StopReason
from nesting.planning.group import Group
from nesting.planning.settle import Settled, settle
from nesting.purchasing.market import Market


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
    _began: float = field(default_factory=time.monotonic)
    _known: dict[tuple[Problem, Market, Spares], Settled] = field(default_factory=dict)

    def settle(self, group: Group) -> Settled:
        """
        Solve a group on the prices really paid.

        Raises
        ------
        OutOfTime
            When the limit is reached or somebody cancels.
        """
        key = (replace(group.problem, name=""), group.market, group.spares)
        if key not in self._known:
            settled = settle(group, seed=self.seed, stop=self._stop)
            if settled.result.ended in (StopReason.TIME, StopReason.CANCELLED):
                raise OutOfTime
            self._known[key] = settled
        return self._known[key]

    def _stop(self, now: Progress) -> StopReason | None:
        if self.cancel.is_set():
            return StopReason.CANCELLED
        spent = time.monotonic() - self._began
        return StopReason.TIME if self.seconds is not None and spent > self.seconds else None


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
