"""From the linear programme to whole bars: fix what is whole, re-generate on the rest, repair."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import floor
from random import Random

from nesting.solver.columns import Pattern
from nesting.solver.construct import construct
from nesting.solver.master import ROUNDING, Master, Share
from nesting.solver.params import RoundParams
from nesting.solver.reduce import Reduced
from nesting.solver.search import Plan, Search

FEW_PATTERNS = 200
PATTERNS_A_STEP = 25
"""Beyond few patterns in use, a step fixes one more for so many: 1 000 lengths took 40 steps, not 300."""


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

    def copy(self) -> Rest:
        """Give an independent copy."""
        return Rest(list(self.demands), list(self.supplies), list(self.fixed), self.spent)

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


def dive(
    search: Search,
    master: Master,
    shares: Sequence[Share],
    draw: Random | None,
    *,
    max_failures: int,
    max_solves: int,
    rest: Rest | None = None,
) -> tuple[int, Rest]:
    """
    Fix bars and re-generate on the rest until all is cut or no better plan can come of it.

    On a failure the last choice is exchanged for the runner-up, a few times; late choices are the
    ones made on the weakest ground.

    Parameters
    ----------
    master
        Its right-hand side is changed.
    shares
        Solution of the linear programme on what is open.
    draw
        None to follow the largest fraction; else draws among the patterns by their fractions.
    max_failures, max_solves
        Failures and linear programmes after which the dive ends.
    rest
        What is open; the whole demand by default. It is changed.

    Returns
    -------
    int, Rest
        Linear programmes solved, and the state in which the dive ended.
    """
    reduced = search.reduced
    rest = Rest.all_of(reduced) if rest is None else rest
    retries: list[tuple[Rest, Pattern]] = []
    failures = 0
    solves = 0
    while True:
        if not _fix_whole_parts(reduced, rest, shares):
            choices = _choices(rest, shares, draw)
            if len(choices) > 1:
                retries.append((rest.copy(), choices[1]))
            if choices:
                rest.fix(reduced, choices[0], 1)
            _fix_more(reduced, rest, shares)
        offer_greedy_end(search, rest)
        if search.proved or solves >= max_solves:
            return solves, rest
        while True:
            ambition, room = master.room(rest.spent)
            if not rest.empty:
                master.start(rest.demands, rest.supplies)
                solves += 1
                if master.solve(enough=ambition, hopeless=room) and master.value <= room + ROUNDING:
                    shares = master.shares()
                    break
            failures += 1
            if failures > max_failures or not retries or solves >= max_solves:
                return solves, rest
            rest, runner_up = retries.pop()
            rest.fix(reduced, runner_up, 1)


class Dives:
    """
    Dive after dive over one linear programme, until a plan reaches the bound.

    The first follows the largest fractions, later ones are drawn. All that begin at the same solution
    share its whole bars, and where these already spoil the rest none can succeed: so most dives
    take back a random part of the bars of the dive before and begin there, the destroy and repair of
    Shaw (1998, CP 98, LNCS 1520), with the linear programme as the repair.

    Parameters
    ----------
    search, master
        The linear programme is solved on the whole demand.
    seed
        Of every draw.
    params
        How many dives and failures.
    """

    def __init__(self, search: Search, master: Master, seed: int, params: RoundParams) -> None:
        self._search, self._master, self._seed, self._params = search, master, seed, params
        self._shares = master.shares()
        self._begun = 0
        self._last: Rest | None = None

    def run(self, max_solves: int) -> None:
        """Dive until so many linear programmes are solved."""
        self._search.enter("round")
        left = max_solves
        while left > 0 and not self._master.reached:
            draw = Random(f"{self._seed}/{self._begun}") if self._begun else None
            if draw is None or self._last is None or self._begun % self._params.afresh == 0:
                solves = self._dive_afresh(draw, left)
            else:
                solves = self._repair(self._last, draw, left)
            self._begun += 1
            left -= max(solves, 1)

    def _dive_afresh(self, draw: Random | None, max_solves: int) -> int:
        solves, self._last = dive(
            self._search, self._master, self._shares, draw,
            max_failures=self._params.failures, max_solves=max_solves,
        )  # fmt: skip
        return solves

    def _repair(self, last: Rest, draw: Random, max_solves: int) -> int:
        rest = take_back(self._search.reduced, last, draw, draw.uniform(*self._params.taken_back))
        ambition, room = self._master.room(rest.spent)
        self._master.start(rest.demands, rest.supplies)
        if not self._master.solve(enough=ambition, hopeless=room) or self._master.value > room + ROUNDING:
            return 1
        solves, self._last = dive(
            self._search, self._master, self._master.shares(), draw,
            max_failures=self._params.repair_failures, max_solves=max_solves, rest=rest,
        )  # fmt: skip
        return solves + 1


def take_back(reduced: Reduced, rest: Rest, draw: Random, share: float) -> Rest:
    """Give the state with about ``share`` of its fixed bars open again, drawn bar by bar."""
    left = Rest.all_of(reduced)
    for pattern, times in rest.fixed:
        kept = sum(draw.random() >= share for _ in range(times))
        if kept:
            left.fix(reduced, pattern, kept)
    return left


def _fix_whole_parts(reduced: Reduced, rest: Rest, shares: Sequence[Share]) -> bool:
    """Fix the whole part of every level; say whether there was one."""
    whole = False
    for share in shares:
        times = min(floor(share.level + ROUNDING), rest.room_for(share.pattern))
        if times > 0:
            rest.fix(reduced, share.pattern, times)
            whole = True
    return whole


def _fix_more(reduced: Reduced, rest: Rest, shares: Sequence[Share]) -> None:
    """Fix more of the largest fractions where very many patterns are in use."""
    more = max(len(shares) - FEW_PATTERNS, 0) // PATTERNS_A_STEP
    for share in shares[:more]:
        if share.level >= 0.5 and rest.room_for(share.pattern) > 0:
            rest.fix(reduced, share.pattern, 1)


def _choices(rest: Rest, shares: Sequence[Share], draw: Random | None) -> list[Pattern]:
    """Give the pattern to fix and, where there is one, the runner-up."""
    usable = [share for share in shares if rest.room_for(share.pattern) > 0]
    if draw is None or len(usable) < 3:
        return [share.pattern for share in usable[:2]]
    weights = [share.level**2 for share in usable]
    first, second = draw.choices([share.pattern for share in usable], weights=weights, k=2)
    return [first] if first == second else [first, second]
