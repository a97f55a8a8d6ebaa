"""
Branch and bound over listed patterns: a plan on so many bars, or the proof that there is none.

Two pieces lie on one bar or they do not (Ryan and Foster, 1981, in Wren, Computer Scheduling of
Public Transport); each answer rules out patterns of the list. The linear programmes only guide:
a branch is cut off in whole numbers, by duals under which the pieces still open are worth more
than the bars left can hold (Farley, 1990, Oper. Res. 38).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.solver.engine import Engine
from nesting.solver.kernel import Ints
from nesting.solver.listed_programme import ListedProgramme
from nesting.solver.listing import Listing
from nesting.solver.mip import Outcome
from nesting.solver.rounding import merge
from nesting.solver.search import Search

SCALE = 2**30
"""Duals are rounded down to parts of a bar so fine."""
NEAR = 1e-7
"""Bars by which a linear value may miss a whole number for rounding alone."""
REAL_DOUBT = 0.1
"""A pair together by less, or apart by less, is asked about only when no other is in doubt."""
WHOLE = 1e-5
"""A level this close to a whole number is taken for it when a branch is chosen, never in a proof."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Ask whether the only open piece of length ``i`` lies on a bar with a piece of length ``j``."""

    i: int
    j: int


@dataclass(frozen=True, slots=True)
class Bar:
    """Ask whether the listed pattern is cut once more."""

    number: int


@dataclass(slots=True)
class Frame:
    """State before a question was asked, so that the other answer can be tried."""

    question: Pair | Bar
    open_: Ints
    fixed: int


class Branching:
    """
    One depth-first search, for one unlimited kind of bar that costs one unit.

    Parameters
    ----------
    search
        Is offered the plan, and asked whether to stop.
    listing
        Every pattern that a plan on ``target`` bars cutting exactly what is asked for may use.

    Attributes
    ----------
    nodes
        Nodes visited.
    """

    def __init__(self, search: Search, listing: Listing, target: int, engine: Engine) -> None:
        self._search = search
        self._listing = listing
        self._arrays = (listing.starts, listing.rows, listing.entries)
        self._target = target
        self._engine = engine
        self._open: Ints = np.array(search.reduced.demands, np.int64)
        self._dead = np.zeros(len(listing), np.int32)
        self._fixed: list[int] = []
        self._frames: list[Frame] = []
        self._programme = ListedProgramme(listing, len(self._open))
        self.nodes = 0

    def run(self, max_nodes: int) -> Outcome:
        """
        Find a plan on the target's bars and offer it, or show that there is none.

        Returns
        -------
        Outcome
            Found, impossible, or open after ``max_nodes``.
        """
        while self.nodes < max_nodes:
            self.nodes += 1
            if self._may_hold():
                if self._offer():
                    return Outcome.FOUND
                self._ask(self._question())
            elif not self._step_back():
                return Outcome.IMPOSSIBLE
        return Outcome.OPEN

    def _may_hold(self) -> bool:
        """Whether the linear programme leaves room for a plan here."""
        programme = self._programme
        programme.move_to(self._open, self._dead)
        bars = self._target - len(self._fixed)
        best = np.empty(len(self._open))
        which = np.empty(len(self._open), np.int64)
        while True:
            value = programme.solve()
            self._search.poll()
            if value <= bars + NEAR:
                return True
            top = self._engine.price_listing(
                *self._arrays,
                self._dead,
                programme.duals,
                1.0 + 1e-9,
                best,
                which,
                cells=len(self._listing.rows),
            )
            if float(programme.duals @ self._open) > bars * max(top, 0.0) + NEAR and self._impossible(bars):
                return False
            found = sorted({int(p) for p in which if p >= 0})
            if not found:
                return True
            programme.add(found)

    def _impossible(self, bars: int) -> bool:
        """Whether the duals prove in whole numbers that the bars left do not hold the open pieces."""
        duals = np.floor(self._programme.duals * SCALE).astype(np.int64)
        dearest = self._engine.dearest_listed(*self._arrays, self._dead, duals, cells=len(self._listing.rows))
        return int(duals @ self._open) > bars * int(dearest)

    def _offer(self) -> bool:
        """Offer what the linear programme says where it is whole; say whether it is a plan good enough."""
        programme = self._programme
        levels = np.round(programme.levels)
        if (
            programme.absent.max(initial=0.0) > WHOLE
            or np.abs(programme.levels - levels).max(initial=0.0) > WHOLE
        ):
            return False
        uses = [(self._listing.pattern(number), 1) for number in self._fixed]
        for place in np.flatnonzero(levels):
            uses.append((self._listing.pattern(programme.columns[place]), int(levels[place])))
        self._search.offer(merge(uses))
        return self._search.worth.short == 0 and self._search.worth.cost <= self._target

    def _question(self) -> Pair | Bar:
        """Choose the longest pair in real doubt: long pieces leave the fewest patterns on either side."""
        listing, programme = self._listing, self._programme
        together: dict[tuple[int, int], float] = {}
        used = [int(place) for place in np.flatnonzero(programme.levels > WHOLE)]
        for place in used:
            level = float(programme.levels[place])
            pieces = [i for i, _ in listing.pattern(programme.columns[place]).pieces]
            for a, i in enumerate(pieces):
                for j in pieces[a + 1 :]:
                    if self._open[i] == 1 or self._open[j] == 1:
                        together[i, j] = together.get((i, j), 0.0) + level
        sizes = self._search.reduced.sizes
        best: tuple[bool, int, float, int, int] | None = None
        for (i, j), level in together.items():
            doubt = round(min(level, 1.0 - level), 6)
            if doubt > WHOLE:
                rank = (doubt > REAL_DOUBT, sizes[i] + sizes[j], doubt, -i, -j)
                best = rank if best is None else max(best, rank)
        if best is not None:
            i, j = -best[3], -best[4]
            return Pair(i, j) if self._open[i] == 1 else Pair(j, i)
        if used:
            return Bar(programme.columns[max(used, key=lambda place: float(programme.levels[place]))])
        return Bar(int(np.flatnonzero(self._dead == 0)[0]))

    def _ask(self, question: Pair | Bar) -> None:
        """Go down the side where the answer is yes."""
        self._frames.append(Frame(question, self._open.copy(), len(self._fixed)))
        stamp = len(self._frames)
        if isinstance(question, Pair):
            lone = bool(self._open[question.j] == 1)
            self._kill_pair(stamp, question, both=False, lone=lone)
        else:
            self._fixed.append(question.number)
            for i, n in self._listing.pattern(question.number).pieces:
                self._open[i] -= n
            self._engine.kill_beyond(
                *self._arrays, self._dead, stamp, self._open, cells=len(self._listing.rows)
            )

    def _step_back(self) -> bool:
        """Take the last question whose other side is untried; False when there is none."""
        if not self._frames:
            return False
        frame = self._frames.pop()
        self._dead[self._dead > len(self._frames)] = 0
        self._open = frame.open_
        del self._fixed[frame.fixed :]
        # The other side needs no frame of its own: what it kills stays dead until the frame above falls.
        stamp = len(self._frames)
        if stamp == 0:
            stamp = -1  # for good
        if isinstance(frame.question, Pair):
            self._kill_pair(stamp, frame.question, both=True, lone=False)
        else:
            self._dead[frame.question.number] = stamp
        return True

    def _kill_pair(self, stamp: int, pair: Pair, *, both: bool, lone: bool) -> None:
        self._engine.kill_pair(
            *self._arrays, self._dead, stamp, pair.i, pair.j, both, lone, cells=len(self._listing.rows)
        )
