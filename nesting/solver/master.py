"""
The linear programme over patterns, by column generation.

Least cost of bars such that every length is cut often enough and no limited kind is used beyond
its supply (Gilmore and Gomory, 1961, Oper. Res. 9; 1963, 11). A bound comes out of every round
(Farley, 1990, Oper. Res. 38, extended to limited kinds), and duals are smoothed towards those of
the best bound (Wentges, 1997, ITOR 4).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from nesting.solver.aim import Aim, Duals
from nesting.solver.columns import Pattern, Pieces, Pool
from nesting.solver.engine import Engine
from nesting.solver.kernel import Ints
from nesting.solver.params import ColumnParams
from nesting.solver.pricing import Pricer
from nesting.solver.reduce import Reduced
from nesting.solver.rows import Rows
from nesting.solver.search import Search
from nesting.solver.simplex import SHIFT, TOLERANCE, WIDE_SHIFTS, Simplex
from nesting.solver.sparse_simplex import SPARSE_ROWS, SparseSimplex

ROUNDING = 1e-6
"""A linear value this close above a whole number is taken for it when rounding up."""

NEAR_ENOUGH = 2e-10
"""Share of the value by which a full optimum may miss the bound; more than ``ROUNDING`` would fail dives."""

COLUMN_SHARE = 10
"""A round asks for at least one column for so many lengths."""


@dataclass(frozen=True, slots=True)
class Share:
    """A pattern and its level in the linear programme."""

    pattern: Pattern
    level: float


def round_up(value: float) -> int:
    """Give the least whole number that a true value near ``value`` can be rounded up to."""
    return ceil(value - ROUNDING)


class Master:
    """
    A linear programme whose columns stay while its right-hand side changes.

    Parameters
    ----------
    search
        Counts the rounds and knows when to stop.
    aim
        Objective.
    engine
        Kernel that pivots.
    pricer
        Finds the patterns that are missing.
    params
        Settings of the column generation.
    seed
        Draws the tiny shifts of the right-hand side that keep the simplex from cycling.
    """

    def __init__(
        self, search: Search, aim: Aim, engine: Engine, pricer: Pricer, params: ColumnParams, seed: int
    ) -> None:
        self._search = search
        self._reduced: Reduced = search.reduced
        self._aim = aim
        self._pricer = pricer
        self._params = params
        self.pool = Pool()
        m = len(self._reduced.sizes)
        kinds = self._reduced.kinds
        self._rows = Rows(self._reduced, aim)
        self._capacities = tuple(sorted({kind.capacity for kind in kinds}, reverse=True))
        self._kinds_at = {
            c: [k for k, kind in enumerate(kinds) if kind.capacity == c] for c in self._capacities
        }
        simplex = SparseSimplex if self._rows.count >= SPARSE_ROWS else Simplex
        self._simplex = simplex(self.pool, self._first_columns(), engine, search.poll, seed)
        self.value = 0.0
        self.duals = Duals.of_pieces(self._reduced, np.zeros(m))
        self.demands: Ints = np.array(self._reduced.demands, np.int64)

    def _first_columns(self) -> list[int]:
        """Add what makes a first basis: one column a row; give their numbers."""
        kinds, sizes, aim = self._reduced.kinds, self._reduced.sizes, self._aim
        big = 100.0 * (1 + max((*aim.costs, *(aim.leaving or ())), default=1))
        first = []
        for i, size in enumerate(sizes):
            homes = [k for k, kind in enumerate(kinds) if kind.supply is None and kind.capacity >= size]
            if homes:
                k = min(homes, key=lambda k: aim.costs[k])
                first.append(self.add(Pattern(k, ((i, 1),))))
            else:
                # Never part of an answer: its cost drives it out wherever stock allows.
                first.append(self.pool.add(None, ((i, 1),), big * len(sizes)))
        for place in range(len(sizes), self._rows.count):
            first.append(self.pool.add(None, ((place, 1),), 0.0))
        for i in range(len(sizes)):
            self.pool.add(None, ((i, -1),), 0.0)
            if aim.leaving is not None:
                column: Pieces = ((i, 1),)
                if self._rows.of_budget is not None:
                    column = (*column, (self._rows.of_budget, aim.weights[i]))
                self.pool.add(None, column, float(aim.leaving[i]))
        return first

    def add(self, pattern: Pattern) -> int:
        """Take a pattern into the pool."""
        return self.pool.add(pattern, self._rows.column(pattern), float(self._aim.costs[pattern.kind]))

    def start(self, demands: Sequence[int], supplies: Sequence[int | None]) -> None:
        """Set the right-hand side: pieces still to cut, bars still at hand."""
        m = len(self._reduced.sizes)
        self.demands = np.array(demands, np.int64)
        wide = m >= self._params.through_lengths and self._aim.leaving is None
        self.duals = (
            Duals.by_size(self._reduced, self._aim, self.demands)
            if wide
            else Duals.of_pieces(self._reduced, np.zeros(m))
        )
        self._simplex.start(self._rows.right_hand(demands, supplies))

    def restart(self, number: int, supplies: Sequence[int | None]) -> None:
        """Start afresh on the whole demand; from ``number`` 1 on with large shifts, for other duals."""
        self._simplex.forget()
        self._simplex.shift = (SHIFT, *WIDE_SHIFTS)[number % (1 + len(WIDE_SHIFTS))]
        self.start(self._reduced.demands, supplies)
        self._simplex.shift = SHIFT

    def solve(
        self, *, enough: float | None = None, hopeless: float | None = None, full: bool = False
    ) -> bool:
        """
        Generate columns.

        Parameters
        ----------
        enough
            A value at or below this will do.
        hopeless
            Give up once the bound, rounded up, is above this.
        full
            Go on to the exact optimum; else end when bound and value round up to the same number.

        Returns
        -------
        bool
            False when given up.
        """
        smoothing = self._params.smoothing
        smooth = smoothing
        for _ in range(self._params.max_rounds):
            self._simplex.optimise()
            self._search.rounds += 1
            self._search.poll()
            true = self._rows.duals(self._simplex.duals)
            self.value = self._simplex.value
            if enough is not None and self.value <= enough + ROUNDING:
                return True
            best = self.duals
            asked = true
            if best.bound > 0.0 and smooth > 0.0:
                asked = Duals(
                    smooth * best.pieces + (1 - smooth) * true.pieces,
                    smooth * best.supplies + (1 - smooth) * true.supplies,
                    smooth * best.budget + (1 - smooth) * true.budget,
                    0.0,
                )
            proved, patterns = self._ask(asked)
            if proved.bound > best.bound:
                self.duals = best = proved
            if hopeless is not None and round_up(best.bound) > hopeless:
                return False
            gap = self.value - best.bound
            if gap <= max(ROUNDING / 2, NEAR_ENOUGH * abs(self.value)) or (
                not full and round_up(best.bound) >= round_up(self.value)
            ):
                return True
            before = len(self.pool)
            self._take(patterns, true)
            if len(self.pool) > before:
                smooth = smoothing
            elif smooth > 0.0:
                smooth = 0.0
            else:
                return True
        return True

    @property
    def reached(self) -> bool:
        """Whether the best plan is as good as the bound on what is aimed at."""
        search = self._search
        return search.worth.short <= search.short_bound if self._aim.counts_short else search.proved

    def room(self, spent: int) -> tuple[int, int]:
        """Give the values from which the best conceivable, and some better plan can still come."""
        search = self._search
        if self._aim.counts_short:
            return search.short_bound, search.worth.short - 1
        return min(search.bound, search.worth.cost - 1) - spent, search.worth.cost - 1 - spent

    def good_patterns(self, proof_slack: float) -> list[Pattern]:
        """Give the pool's patterns whose reduced cost is at most ``proof_slack``, cheapest first."""
        true = self._rows.duals(self._simplex.duals)
        found = []
        for pattern in self.pool.patterns:
            if pattern is not None:
                worth = sum(true.pieces[i] * n for i, n in pattern.pieces)
                excess = self._worth_of_bar(true, pattern.kind) - float(worth)
                if excess <= proof_slack + ROUNDING:
                    found.append((excess, pattern))
        found.sort(key=lambda pair: (pair[0], pair[1].kind, pair[1].pieces))
        return [pattern for _, pattern in found]

    def _worth_of_bar(self, duals: Duals, k: int) -> float:
        return float(self._aim.costs[k] + duals.supplies[k])

    def _ask(self, asked: Duals) -> tuple[Duals, list[Pattern]]:
        """Price every capacity exactly: the bound that ``asked`` proves, and the best patterns."""
        floors = [min(self._worth_of_bar(asked, k) for k in self._kinds_at[c]) for c in self._capacities]
        priced = self._pricer.price(asked.pieces, self.demands, self._capacities, floors)
        shrink = 1.0
        patterns = []
        for capacity, answer in zip(self._capacities, priced, strict=True):
            for k in self._kinds_at[capacity]:
                if k not in self._rows.of_kind and answer.ceiling > self._aim.costs[k] + TOLERANCE:
                    shrink = min(shrink, self._aim.costs[k] / answer.ceiling)
                if answer.pieces:
                    patterns.append(Pattern(k, answer.pieces))
        supplies = np.zeros(len(asked.supplies))
        for capacity, answer in zip(self._capacities, priced, strict=True):
            for k in self._kinds_at[capacity]:
                if k in self._rows.of_kind:
                    supplies[k] = max(shrink * answer.ceiling - self._aim.costs[k], 0.0)
        pieces = shrink * asked.pieces
        budget = shrink * asked.budget
        if self._aim.leaving is not None:
            allowed = np.array(self._aim.leaving, np.float64)
            if self._aim.budget is not None:
                allowed += budget * np.array(self._aim.weights)
            pieces = np.minimum(pieces, allowed)
        bound = float(pieces @ self.demands) - budget * (self._aim.budget or 0)
        bound -= float(sum(supplies[k] * self._simplex.right[row] for k, row in self._rows.of_kind.items()))
        return Duals(pieces, supplies, budget, bound), patterns

    def _take(self, patterns: list[Pattern], true: Duals) -> None:
        """Add the patterns that pay at the true duals, and more that fill what they leave open."""
        kinds = self._reduced.kinds
        paying: list[tuple[float, Pattern]] = []
        for pattern in patterns:
            gain = sum(true.pieces[i] * n for i, n in pattern.pieces) - self._worth_of_bar(true, pattern.kind)
            if gain > TOLERANCE:
                self.add(pattern)
                paying.append((gain, pattern))
        if not paying:
            return
        _, lead = max(paying, key=lambda pair: (pair[0], -pair[1].kind))
        open_ = self.demands.copy()
        floor = self._worth_of_bar(true, lead.kind) + TOLERANCE
        capacity = kinds[lead.kind].capacity
        pieces = lead.pieces
        # Wide programmes need more columns a round: 500 rows took 22 rounds instead of 108 with 100.
        wanted = max(self._params.columns_per_round, len(self.demands) // COLUMN_SHARE)
        for number in range(1, wanted):
            for i, n in pieces:
                open_[i] -= n
            [answer] = self._pricer.price(true.pieces, open_, [capacity], [floor], exact=False)
            if not answer.pieces:
                # So few come when the programme is nearly solved; 1 000 rows took 28 rounds instead of 94.
                if 2 * number < wanted and len(self.demands) >= self._params.through_lengths:
                    for through in self._pricer.price_through(true.pieces, self.demands, capacity, floor):
                        self.add(Pattern(lead.kind, through))
                return
            self.add(Pattern(lead.kind, answer.pieces))
            pieces = answer.pieces

    def shares(self) -> list[Share]:
        """Give the patterns in use and their levels at the unshifted right-hand side, largest first."""
        found = []
        for column, level in self._simplex.levels():
            pattern = self.pool.patterns[column]
            if pattern is not None and level > ROUNDING:
                found.append(Share(pattern, level))
        return sorted(found, key=lambda share: (-share.level, share.pattern.kind, share.pattern.pieces))
