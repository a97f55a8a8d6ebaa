"""The least money for the bars of one material, with a proven bound: branch and bound over ranges of bars."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import perf_counter

from nesting.domain.packing import Packing
from nesting.domain.problem import Problem
from nesting.domain.progress import Progress, Result, SolverReport, StopReason
from nesting.purchasing.box import Box, Relaxed, parts_of, relax
from nesting.purchasing.market import Bill, Market
from nesting.purchasing.ranges import Ranges
from nesting.purchasing.tidy import tidy
from nesting.solver.observe import SILENT, Observer
from nesting.solver.params import CloseParams, RoundParams, ScrapParams, SolverParams
from nesting.solver.solve import solve
from nesting.stop import NEVER, Stop

QUICK = SolverParams(
    rounding=RoundParams(late_solves=0),
    scrap=ScrapParams(tries=0),
    closing=CloseParams(max_cells=0, max_nodes=200, pool_nodes=0),
)
"""Without the long part of the closing search: dividing a range usually settles it sooner."""
LAST = SolverParams(closing=CloseParams(max_cells=0, max_nodes=2_000))
"""For the bars that are bought in the end: the second goal counts."""


@dataclass(frozen=True, slots=True)
class Bought:
    """Patterns with the bill for their bars; the result's cost and bound are money really paid."""

    result: Result
    bill: Bill


def buy(
    problem: Problem,
    market: Market,
    *,
    seed: int = 0,
    stop: Stop = NEVER,
    observer: Observer = SILENT,
    params: SolverParams = SolverParams(),  # noqa: B008 - frozen
) -> Bought:
    """
    Find the patterns whose bars cost the least money, as it is really paid.

    The plan at list prices comes first. Then every range of bars opened is bounded by an ordinary
    cutting problem, at the lower convex envelope of the bill over the range, and divided where plan and
    envelope disagree most (Falk and Soland, 1969). A range whose bound reaches the best bill is done.

    Parameters
    ----------
    problem
        Its first kinds of bar are the market's, at list prices; then come the offcuts.
    params
        Of the search where a range hangs on the cutting alone; without tries at less scrap nobody looks
        at how the bars are cut, and they are left as they come.
    """
    return _Search(problem, market, seed, stop, observer, params).run()


class _Search:
    """The best bill so far and the ranges still open."""

    def __init__(
        self,
        problem: Problem,
        market: Market,
        seed: int,
        stop: Stop,
        observer: Observer,
        params: SolverParams,
    ) -> None:
        self._problem, self._market, self._seed = problem, market, seed
        self._stop, self._observer = stop, observer
        self._full, self._looked_at = replace(params, scrap=ScrapParams(tries=0)), params.scrap.tries > 0
        self._began = perf_counter()
        self._kinds = len(market.uses)
        self._best: tuple[int, int, Packing, Bill] | None = None
        self._short_bound = 0
        self._ranges = Ranges()
        self._at_work: tuple[Box, Relaxed] | None = None
        self._solved = 0
        self._rounds = 0
        self._ended: StopReason | None = None
        self._anew = False
        self._grid = max(market.grid, 1)
        if any(bar.cost % self._grid for bar in problem.bars[self._kinds :]):
            self._grid = 1

    def run(self) -> Bought:
        """Branch until nothing better can come of any range."""
        first = self._solve(self._problem)
        self._short_bound = first.short_bound
        self._offer(first.best)
        self._begin()
        while self._ended is None and (taken := self._ranges.next(self._cost)) is not None:
            self._divide(*taken)
            if self._anew:
                self._begin()
        bound = self._ranges.bound(self._cost)
        ended = StopReason.PROVED if bound >= self._cost else self._ended or StopReason.EXHAUSTED
        if self._known[0] == 0 and self._ended is None and self._looked_at:
            self._tidy_up()
        short, cost, packing, bill = self._known
        report = SolverReport(
            seconds=perf_counter() - self._began,
            rounds=self._rounds,
            counters=(("ranges", self._solved),),
        )
        result = Result(
            best=packing,
            cost=cost,
            bound=bound,
            ended=ended,
            report=report,
            short=short,
            short_bound=min(self._short_bound, short),
        )
        return Bought(result, bill)

    def _begin(self) -> None:
        """Open the whole range at every choice of breaks on totals."""
        self._anew = False
        self._ranges.clear()
        for tiers in self._market.tiers():
            self._add(Box(lows=(0,) * self._kinds, highs=self._highs(), tiers=tiers))

    def _tidy_up(self) -> None:
        """Keep the bill and open no more of its bars than needed."""
        short, cost, packing, bill = self._known
        packing = tidy(
            self._problem, self._market, packing, bill, lambda problem: self._solve(problem, params=LAST)
        )
        same = self._market.bill(self._opened(packing)[: self._kinds])
        if same is not None and same.cost <= bill.cost:
            self._best = (short, cost - bill.cost + same.cost, packing, same)

    @property
    def _known(self) -> tuple[int, int, Packing, Bill]:
        assert self._best is not None, "the plan at list prices always has a bill"
        return self._best

    @property
    def _cost(self) -> int:
        return self._known[1]

    def _highs(self) -> tuple[int, ...]:
        """Give the most bars of each kind that a plan cheaper than the best one can open."""
        highs = []
        for kind in range(self._kinds):
            high = sum(self._problem.counts)
            if (limit := self._market.limit(kind)) is not None:
                high = min(high, limit)
            for o in self._market.uses[kind]:
                offer = self._market.offers[o]
                if (least := min(offer.units())) > 0:
                    high = min(high, offer.hand + self._cost // least)
            highs.append(high)
        return tuple(highs)

    def _solve(
        self,
        problem: Problem,
        *,
        params: SolverParams = QUICK,
        enough: Callable[[Progress], bool] | None = None,
    ) -> Result:
        """Solve a cutting problem within what is left of the whole search."""

        def stopping(now: Progress) -> StopReason | None:
            if (why := self._stop(self._translated(now))) is not None:
                self._ended = why
                return why
            return StopReason.EXHAUSTED if enough and enough(now) else None

        result = solve(problem, seed=self._seed, stop=stopping, params=params)
        self._solved += 1
        self._rounds += result.report.rounds
        if self._best is not None:
            self._observer.on_progress(self._translated(Progress(bound=result.bound)))
        return result

    def _translated(self, now: Progress) -> Progress:
        """Give the state in money, whatever a single problem's costs stand for."""
        best = None if self._best is None else self._best[1]
        return replace(
            now,
            group=self._problem.name,
            phase="buy",
            best=best,
            bound=None if best is None else self._proved_by(now),
            short=0 if self._best is None else self._best[0],
            rounds=self._rounds + now.rounds,
            elapsed=perf_counter() - self._began,
        )

    def _proved_by(self, now: Progress) -> int:
        """Give what is proved while a range is at work: its own bound grows with its cutting problem's."""
        if self._at_work is None:
            return self._ranges.bound(self._cost)
        box, relaxed = self._at_work
        return min(self._ranges.bound(self._cost), max(box.bound, self._on_grid(relaxed, now.bound or 0)))

    def _opened(self, packing: Packing) -> list[int]:
        opened = [0] * len(self._problem.bars)
        for use in packing.uses:
            opened[use.bar] += use.times
        return opened

    def _offer(self, packing: Packing) -> None:
        """Keep a packing when its bill is lower, or when it leaves out less."""
        opened = self._opened(packing)
        bill = self._market.bill(opened[: self._kinds])
        if bill is None:
            return
        offcuts = zip(self._problem.bars[self._kinds :], opened[self._kinds :], strict=True)
        cost = bill.cost + sum(bar.cost * times for bar, times in offcuts)
        short = sum(a * n for a, n in zip(self._problem.lengths, packing.short, strict=True))
        if self._best is None or (short, cost) < self._best[:2]:
            # What was too dear for a plan that leaves out more may be just right for one that leaves less.
            self._anew = self._best is not None and short < self._best[0]
            self._best = (short, cost, packing, bill)

    def _add(self, box: Box) -> None:
        """Open a range unless its cheapest corner is too dear already."""
        if any(low > high for low, high in zip(box.lows, box.highs, strict=True)):
            return
        corner = self._market.bill_at(box.lows, box.tiers)
        if corner is None or max(corner.cost, box.bound) >= self._cost:
            return
        self._ranges.add(replace(box, bound=max(corner.cost, box.bound)))

    def _divide(self, box: Box, hanging: bool) -> None:
        """Bound one range by its cutting problem; divide it when that is not enough."""
        relaxed = relax(self._problem, self._market, box, self._cost)
        box, opened = self._bounded(box, relaxed, self._full if hanging else QUICK)
        if self._ended is not None:
            # Not settled: what is proved of it so far must stay in the account.
            self._ranges.add(box)
            return
        if box.bound >= self._cost:
            return
        if not hanging and relaxed.exact_at(opened):
            # The envelope is exact where the plan is, so only the cutting itself is still in doubt.
            self._ranges.hang(box)
            return
        if (other := self._rewarded(box, opened)) is not None:
            self._add(other)
            return
        parts = parts_of(box, relaxed, opened)
        for part in parts:
            self._add(part)
        if not parts:
            self._ranges.give_up(box)

    def _bounded(self, box: Box, relaxed: Relaxed, params: SolverParams) -> tuple[Box, list[int]]:
        """Give the box with the bound its cutting problem proves, and the bars that its plan opens."""
        target = relaxed.cost_at(self._cost - self._grid + 1)
        self._at_work = box, relaxed
        result = self._solve(
            relaxed.problem,
            params=params,
            enough=lambda now: now.bound is not None and now.bound >= target,
        )
        self._at_work = None
        packing = relaxed.unfold(result.best)
        self._offer(packing)
        bound = max(box.bound, self._on_grid(relaxed, result.bound))
        return replace(box, bound=bound), self._opened(packing)[: self._kinds]

    def _on_grid(self, relaxed: Relaxed, bound: int) -> int:
        """Round a bound up to what a bill can come to."""
        return -(-relaxed.money(bound) // self._grid) * self._grid

    def _rewarded(self, box: Box, opened: Sequence[int]) -> Box | None:
        """Give the same range with bars counting towards a tier the plan falls short of, if it does."""
        needs = self._market.needs(opened)
        ordered = [0] * self._market.buckets
        for offer, need in zip(self._market.offers, needs, strict=True):
            deal = offer.deal(need, box.tiers[offer.bucket])
            ordered[offer.bucket] += deal.bars if deal else 0
        short = {b for b, tier in enumerate(box.tiers) if ordered[b] < tier} - box.rewarded
        return replace(box, rewarded=box.rewarded | short) if short else None
