"""From the linear programme to whole bars: fix what is whole, re-generate on the rest, dive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import floor
from random import Random

from nesting.solver.columns import Pattern
from nesting.solver.construct import construct
from nesting.solver.master import ROUNDING, Master, Share
from nesting.solver.reduce import Reduced
from nesting.solver.search import Plan, Search


@dataclass(slots=True)
class Rest:
    """
    What is still open while bars are fixed one after the other.

    Attributes
    ----------
    demands, supplies
        Pieces and bars left.
    fixed
        Patterns fixed so far.
    spent
        Their cost.
    """

    demands: list[int]
    supplies: list[int | None]
    fixed: list[tuple[Pattern, int]] = field(default_factory=list)
    spent: int = 0

    @classmethod
    def all_of(cls, reduced: Reduced) -> Rest:
        """Give the state before the first bar."""
        return cls(list(reduced.demands), [kind.supply for kind in reduced.kinds])

    @property
    def empty(self) -> bool:
        """Whether nothing is left to cut."""
        return not any(self.demands)

    def room_for(self, pattern: Pattern) -> int:
        """How often the pattern can still be cut without a surplus piece."""
        supply = self.supplies[pattern.kind]
        times = min(self.demands[i] // n for i, n in pattern.pieces)
        return times if supply is None else min(times, supply)

    def fix(self, reduced: Reduced, pattern: Pattern, times: int) -> None:
        """Cut the pattern ``times`` times."""
        self.fixed.append((pattern, times))
        self.spent += reduced.kinds[pattern.kind].cost * times
        for i, n in pattern.pieces:
            self.demands[i] -= n * times
        if (supply := self.supplies[pattern.kind]) is not None:
            self.supplies[pattern.kind] = supply - times


def offer_greedy_end(search: Search, rest: Rest) -> None:
    """Complete the fixed bars greedily and offer the plan."""
    search.offer(merge([*rest.fixed, *construct(search.reduced, rest.demands, rest.supplies)]))


def merge(uses: Sequence[tuple[Pattern, int]]) -> Plan:
    """Give the plan with equal patterns joined."""
    counts: dict[Pattern, int] = {}
    for pattern, times in uses:
        counts[pattern] = counts.get(pattern, 0) + times
    return tuple(counts.items())


def dive(search: Search, master: Master, shares: Sequence[Share], draw: Random | None) -> None:
    """
    Fix bars and re-generate on the rest until all is cut or no better plan can come of it.

    Parameters
    ----------
    master
        Its right-hand side is changed.
    shares
        Solution of the linear programme on the whole demand.
    draw
        None to follow the largest fraction; else draws among the patterns by their fractions.
    """
    reduced = search.reduced
    rest = Rest.all_of(reduced)
    while True:
        _fix_some(reduced, rest, shares, draw)
        offer_greedy_end(search, rest)
        if rest.empty or search.proved:
            return
        room = master.room(rest.spent)
        master.start(rest.demands, rest.supplies)
        if not master.solve(enough=room, hopeless=room) or master.value > room + ROUNDING:
            return
        shares = master.shares()


def _fix_some(reduced: Reduced, rest: Rest, shares: Sequence[Share], draw: Random | None) -> None:
    """Fix every whole part, or else one pattern."""
    whole = False
    for share in shares:
        times = min(floor(share.level + ROUNDING), rest.room_for(share.pattern))
        if times > 0:
            rest.fix(reduced, share.pattern, times)
            whole = True
    if whole:
        return
    usable = [share for share in shares if rest.room_for(share.pattern) > 0]
    if not usable:
        return
    if draw is None:
        chosen = usable[0].pattern
    else:
        [chosen] = draw.choices(
            [share.pattern for share in usable], weights=[share.level**2 for share in usable]
        )
    rest.fix(reduced, chosen, 1)
