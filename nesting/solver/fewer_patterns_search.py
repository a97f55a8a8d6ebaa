"""Search for fewer patterns over plain arrays: lay a part out anew, then regroup a few at a time."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

import numpy as np

from nesting.solver.fewer_patterns_dive import Bench, Run, dive
from nesting.solver.fewer_patterns_improve import improve
from nesting.solver.fewer_patterns_ways import MOST_BINS, MOST_WAYS
from nesting.solver.kernel import Ints

ATTEMPTS, ATTEMPTS_EACH = 30_000, 1_500
"""Regroupings tried after each new layout: so many for each pattern, but no more than the first number."""
MAX_NODES = 300
"""Steps of one regrouping."""
ACCEPT = np.array([1000, 150, 30], np.int64)
"""Chance in a thousand to accept 0, 1, 2 more lengths over all patterns; more are refused."""
FEWEST_PARTS = 4
"""Patterns that are worth laying out anew."""
LARGEST_SUM = 1 << 16
"""Sums kept apart in the table of a regrouping; bars of more units are looked at more coarsely."""
LARGEST_TABLE = 40_000_000
"""Cells of one pricing round (room times lengths times longest run) above which no layout is tried."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """
    Patterns as whole numbers in units of size, and what they have to obey.

    Parameters
    ----------
    sizes
        Size of each length with its kerf, shape ``(m,)``.
    rooms, fewest
        What a bar of each kind holds, and must hold at least; shape ``(kinds,)``.
    unit
        Nanometres of one unit.
    scrap_rule
        For each kind, nanometres to add to a bar's waste to get its tail, and the keep length.
    spare_scrap
        Nanometres of scrap that may still be added.
    patterns, times, kinds
        The plan, shape ``(p, m)``, ``(p,)``, ``(p,)``.
    """

    sizes: Ints
    rooms: Ints
    fewest: Ints
    most_pieces: int
    most_lengths: int
    unit: int
    scrap_rule: Ints
    spare_scrap: int
    patterns: Ints
    times: Ints
    kinds: Ints

    @property
    def worth(self) -> tuple[int, int]:
        """Number of patterns, and of lengths summed over patterns: both are better when less."""
        return len(self.times), int((self.patterns > 0).sum())

    @property
    def scrap(self) -> int:
        """Sum of the tails that are not kept, nanometres."""
        waste = self.rooms[self.kinds] - self.patterns @ self.sizes
        tails = waste * self.unit + self.scrap_rule[self.kinds, 0]
        kept = tails >= self.scrap_rule[self.kinds, 1]
        return int((np.where((tails > 0) & ~kept, tails, 0) * self.times).sum())

    def with_rows(self, patterns: Ints, times: Ints, kinds: Ints) -> Plan:
        """Give the plan with other patterns, equal ones merged; scrap they add is taken off what is spare."""
        rows = np.column_stack([kinds, patterns])
        unique, place = np.unique(rows, axis=0, return_inverse=True)
        total = np.zeros(len(unique), np.int64)
        np.add.at(total, place.reshape(-1), times)
        plan = replace(self, patterns=unique[:, 1:].copy(), times=total, kinds=unique[:, 0].copy())
        return replace(plan, spare_scrap=self.spare_scrap + self.scrap - plan.scrap)


class PatternSearch:
    """
    Keeps a plan at work and the best one met.

    Parameters
    ----------
    plan
        Where to begin; the best is never worse.
    seed
        Repeats the search.
    enough
        A number of patterns that no plan can do without.
    """

    def __init__(self, plan: Plan, seed: int, enough: int) -> None:
        self._draw = Random(seed)
        self._enough = max(enough, len(set(plan.kinds.tolist())))
        self.best = plan
        self._rounds = 0
        self._at = plan
        self._take(self._regroup(plan))

    @property
    def settled(self) -> bool:
        """Whether there are as few patterns as there can be with these bars."""
        return len(self.best.times) <= self._enough

    def round(self) -> None:
        """Lay a part of the plan out anew, regroup, and go on from there when it is no worse."""
        plan = self._at if self._rounds else self.best
        self._rounds += 1
        rows = self._part(plan)
        if rows is not None:
            runs = self._layout(plan, rows)
            if runs is not None:
                plan = self._replaced(plan, rows, runs)
        if plan.spare_scrap >= 0:
            self._take(self._regroup(plan))

    def _take(self, plan: Plan) -> None:
        if plan.worth[0] <= self._at.worth[0]:
            self._at = plan
        if plan.worth < self.best.worth:
            self.best = plan

    def _part(self, plan: Plan) -> Ints | None:
        """Choose patterns of one kind of bar: all of them at first, then some that share lengths."""
        numbers = np.bincount(plan.kinds)
        able = [k for k, n in enumerate(numbers) if n >= FEWEST_PARTS]
        if not able:
            return None
        kind = self._draw.choices(able, [int(numbers[k]) for k in able])[0]
        rows = np.flatnonzero(plan.kinds == kind)
        if self._rounds % 4 == 1:
            return rows
        size = self._draw.randint(min(FEWEST_PARTS, len(rows)), max(FEWEST_PARTS, len(rows) * 3 // 4))
        if self._rounds % 2:
            # Short runs are what fitted nowhere else: give them some longer ones to mix with.
            longest = sorted(rows.tolist(), key=lambda row: plan.times[row] * (1 + self._draw.random()))
            return np.array(sorted(longest[:size]))
        chosen = [int(self._draw.choice(rows.tolist()))]
        while len(chosen) < size:
            others = [int(row) for row in rows if row not in chosen]
            some = self._draw.sample(others, min(3, len(others)))
            held = (plan.patterns[chosen] > 0).any(axis=0)
            chosen.append(max(some, key=lambda row: int((held & (plan.patterns[row] > 0)).sum())))
        return np.array(sorted(chosen))

    def _layout(self, plan: Plan, rows: Ints) -> list[Run] | None:
        kind = int(plan.kinds[rows[0]])
        demand = plan.times[rows] @ plan.patterns[rows]
        places = np.flatnonzero(demand)
        bars = int(plan.times[rows].sum())
        room = int(plan.rooms[kind])
        if room * len(places) * min(int(demand.max()), bars) > LARGEST_TABLE:
            return None
        bench = Bench(
            sizes=plan.sizes[places],
            room=room,
            fewest=int(plan.fewest[kind]),
            most_pieces=plan.most_pieces,
            most_lengths=plan.most_lengths,
        )
        known = [(int(plan.times[row]), plan.patterns[row, places]) for row in rows]
        draw = None if self._rounds == 1 else self._draw
        runs = dive(bench, demand[places], bars, known, draw)
        if runs is None:
            return None
        whole = []
        for times, pieces in runs:
            pattern = np.zeros(len(demand), np.int64)
            pattern[places] = pieces
            whole.append((times, pattern))
        return whole

    def _replaced(self, plan: Plan, rows: Ints, runs: list[Run]) -> Plan:
        stay = np.setdiff1d(np.arange(len(plan.times)), rows)
        kind = plan.kinds[rows[0]]
        return plan.with_rows(
            np.concatenate([plan.patterns[stay], np.array([pieces for _, pieces in runs])]),
            np.concatenate([plan.times[stay], np.array([times for times, _ in runs])]),
            np.concatenate([plan.kinds[stay], np.full(len(runs), kind)]),
        )

    def _regroup(self, plan: Plan) -> Plan:
        count, m = plan.patterns.shape
        patterns, times, kinds = plan.patterns.copy(), plan.times.copy(), plan.kinds.copy()
        best, best_times, best_kinds = patterns.copy(), times.copy(), kinds.copy()
        mixed = plan.worth[1]
        record = np.array([count, mixed, mixed], np.int64)
        grain = 1 + int(plan.rooms.max()) // LARGEST_SUM
        words = (int(plan.rooms.max()) // grain >> 6) + 1
        improve(
            patterns,
            times,
            kinds,
            count,
            plan.sizes,
            plan.rooms,
            plan.fewest,
            grain,
            plan.most_pieces,
            plan.most_lengths,
            plan.unit,
            plan.scrap_rule,
            plan.spare_scrap,
            ACCEPT,
            min(ATTEMPTS, ATTEMPTS_EACH * count),
            MAX_NODES,
            np.array([1 + self._draw.randrange(1 << 30)], np.int64),
            best,
            best_times,
            best_kinds,
            record,
            np.zeros(m + 1, np.int64),
            np.zeros((MOST_WAYS, MOST_BINS), np.int64),
            np.zeros((MOST_BINS, m + 1, words), np.uint64),
        )
        n = int(record[0])
        return plan.with_rows(best[:n], best_times[:n], best_kinds[:n])
