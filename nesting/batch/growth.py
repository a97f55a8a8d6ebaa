"""How much every run may grow before more has to be paid: what an order placed from drawings can stand."""

from __future__ import annotations

import time
from dataclasses import replace

from nesting.batch.split import split
from nesting.batch.watch import Flag
from nesting.domain.group_plan import GrowthOpen
from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, Margins
from nesting.domain.progress import Progress, StopReason
from nesting.domain.request import Request
from nesting.planning.group import Group
from nesting.planning.purpose import for_purpose
from nesting.planning.settle import settle
from nesting.solver.params import ScrapParams, SolverParams
from nesting.takeoff.take_off import take_off
from nesting.units import Length, mm

# Sizes that a saw of any length is tried in.
PLAIN_STEP = mm("0.5")
# Runs that grow by more than this were not measured but guessed; no end is looked for beyond.
FARTHEST = mm(256)
# Nobody looks at the bars of a trial.
_COST_ALONE = SolverParams(scrap=ScrapParams(tries=0))


def with_growth(
    request: Request, group: GroupPlan, *, seed: int, seconds: float | None, cancel: Flag
) -> Margins | None:
    """
    Give a group's margins with its growth margin.

    The margin is the largest whole number of the saw's steps by which every run of the material's family
    and finish may be longer without the material costing more; it is found by planning anew, first
    doubling, then halving the distance, since longer runs never cost less. A trial ends once it is known
    whether it costs more. Piece lines do not grow.

    Returns
    -------
    Margins or None
        Without a growth, and with the reason, when no run is behind the group, when it shares limited bars
        with another one, or when not all of it is planned; when time is up, with what holds so far.
    """
    if group.margins is None:
        return None
    search = _Growing(request, group, seed, seconds, cancel)
    if (why := search.hindrance()) is not None:
        return replace(group.margins, growth_open=why)
    step = request.saw_for(group.material.part).step or PLAIN_STEP
    holds, fails = 0, 1
    while (held := search.holds(fails * step)) and fails * step < FARTHEST:
        holds, fails = fails, 2 * fails
    if held:
        return replace(group.margins, growth=Length(fails * step))
    while fails - holds > 1 and not search.ended:
        middle = (holds + fails) // 2
        if search.holds(middle * step):
            holds = middle
        else:
            fails = middle
    if search.ended:
        growth = Length(holds * step) if holds else None
        return replace(group.margins, growth=growth, growth_open=GrowthOpen.TIME)
    return replace(group.margins, growth=Length(holds * step), growth_cost=search.cost(fails * step))


class _Growing:
    """Plans one material again and again with longer runs."""

    def __init__(
        self, request: Request, group: GroupPlan, seed: int, seconds: float | None, cancel: Flag
    ) -> None:
        taken, _ = for_purpose(request)
        material = group.material
        self.ended = False
        self._plan = group
        self._material: Material = material
        self._seed, self._cancel = seed, cancel
        self._end = None if seconds is None else time.monotonic() + seconds
        self._request = replace(
            taken,
            runs=tuple(r for r in taken.runs if (r.family, r.finish) == (material.family, material.finish)),
            piece_lines=tuple(
                p for p in taken.piece_lines if (p.family, p.finish) == (material.family, material.finish)
            ),
        )

    def hindrance(self) -> GrowthOpen | None:
        """Give what makes the group's own cost say nothing of its growth; None when nothing does."""
        if not self._request.runs:
            return GrowthOpen.NO_RUNS
        chains = split(self._request, take_off(self._request).pieces).chains
        chain = next((c for c in chains if any(g.material == self._material for g in c)), ())
        if len(chain) > 1:
            return GrowthOpen.SHARED
        planned = sum(len(bar.good_cuts) for bar in self._plan.bars)
        all_of_it = chain and planned == len(chain[0].pieces)
        return None if all_of_it else GrowthOpen.LEFT_OUT

    def holds(self, growth: int) -> bool:
        """Whether the material with every run so much longer costs no more; False when it is not known."""
        group = self._grown(growth)
        if group is None:
            return False
        most = self._plan.cost

        def decided(now: Progress) -> StopReason | None:
            if (why := self._stop(now)) is not None:
                return why
            if now.short or now.best is None:
                return None
            known = now.best <= most or (now.bound is not None and now.bound > most)
            return StopReason.EXHAUSTED if known else None

        found = settle(group, seed=self._seed, stop=decided, params=_COST_ALONE).result
        return not found.short and found.cost <= most

    def cost(self, growth: int) -> int | None:
        """Give the material's cost with every run so much longer; None when not all of it fits."""
        group = self._grown(growth)
        if group is None:
            return None
        found = settle(group, seed=self._seed, stop=self._stop, params=_COST_ALONE).result
        return None if found.short else found.cost

    def _grown(self, growth: int) -> Group | None:
        """Give the material's group with every run so much longer; None when not all of it fits."""
        runs = tuple(replace(run, length=Length(run.length + growth)) for run in self._request.runs)
        grown = replace(self._request, runs=runs)
        taken_off = take_off(grown)
        parts = split(grown, taken_off.pieces)
        if taken_off.unplaced or parts.unplaced:
            return None
        return next((g for chain in parts.chains for g in chain if g.material == self._material), None)

    def _stop(self, now: Progress) -> StopReason | None:
        why = None
        if self._cancel.is_set():
            why = StopReason.CANCELLED
        elif self._end is not None and time.monotonic() > self._end:
            why = StopReason.TIME
        self.ended = self.ended or why is not None
        return why
