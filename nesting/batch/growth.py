"""How much every run may grow before more has to be paid: what an order placed from drawings can stand."""

from __future__ import annotations

import time
from dataclasses import replace

from nesting.batch.split import split
from nesting.batch.watch import Flag
from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, Margins
from nesting.domain.progress import Progress, StopReason
from nesting.domain.request import Request
from nesting.planning.purpose import for_purpose
from nesting.planning.settle import settle
from nesting.takeoff.take_off import take_off
from nesting.units import Length, mm

# Sizes that a saw of any length is tried in.
PLAIN_STEP = mm("0.5")
# Runs that grow by more than this were not measured but guessed; no end is looked for beyond.
FARTHEST = mm(256)


def with_growth(
    request: Request, group: GroupPlan, *, seed: int, seconds: float | None, cancel: Flag
) -> Margins | None:
    """
    Give a group's margins with its growth margin.

    The margin is the largest whole number of the saw's steps by which every run of the material's family
    and finish may be longer without the material costing more; it is found by planning anew, first
    doubling, then halving the distance, since longer runs never cost less. Piece lines do not grow.

    Returns
    -------
    Margins or None
        Unchanged when no run is behind the group, when it shares limited bars with another one, or when
        time is up before an answer.
    """
    if group.margins is None:
        return None
    search = _Growing(request, group, seed, seconds, cancel)
    if search.cost(0) != group.cost:
        return group.margins
    step = request.saw_for(group.material.part).step or PLAIN_STEP
    holds, fails, cost = 0, 1, search.cost(step)
    while cost is not None and cost <= group.cost and fails * step < FARTHEST:
        holds, fails = fails, 2 * fails
        cost = search.cost(fails * step)
    if cost is not None and cost <= group.cost:
        return replace(group.margins, growth=Length(fails * step))
    while fails - holds > 1:
        middle = (holds + fails) // 2
        tried = search.cost(middle * step)
        if tried is not None and tried <= group.cost:
            holds = middle
        else:
            fails, cost = middle, tried
    if search.ended:
        return group.margins
    return replace(group.margins, growth=Length(holds * step), growth_cost=cost)


class _Growing:
    """Plans one material again and again with longer runs."""

    def __init__(
        self, request: Request, group: GroupPlan, seed: int, seconds: float | None, cancel: Flag
    ) -> None:
        taken, _ = for_purpose(request)
        material = group.material
        self.ended = False
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

    def cost(self, growth: int) -> int | None:
        """Give the material's cost with every run so much longer; None when not all of it fits."""
        if not self._request.runs:
            return None
        runs = tuple(replace(run, length=Length(run.length + growth)) for run in self._request.runs)
        grown = replace(self._request, runs=runs)
        taken_off = take_off(grown)
        parts = split(grown, taken_off.pieces)
        group = next((g for chain in parts.chains for g in chain if g.material == self._material), None)
        if group is None or taken_off.unplaced or parts.unplaced:
            return None
        settled = settle(group, seed=self._seed, stop=self._stop)
        return None if settled.result.short else settled.result.cost

    def _stop(self, now: Progress) -> StopReason | None:
        why = None
        if self._cancel.is_set():
            why = StopReason.CANCELLED
        elif self._end is not None and time.monotonic() > self._end:
            why = StopReason.TIME
        self.ended = self.ended or why is not None
        return why
