"""Bars that are there, some of them cut already, put together to a whole plan with its order and its cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, Plan, PlannedBar, Unplaced
from nesting.domain.progress import Result, SolverReport, StopReason
from nesting.domain.request import Request
from nesting.errors import SolverFault
from nesting.money import Money
from nesting.planning.bar_order import most_open_of
from nesting.planning.group import Group
from nesting.planning.group_plan import group_plan
from nesting.planning.ordered import ordered_by, said_of_before
from nesting.planning.purchase import bar_costs, in_order, job_shares, order_lines
from nesting.planning.replan_order import order_after_report
from nesting.planning.rest import opened_packing
from nesting.planning.settle import Settled, held_market
from nesting.planning.standing import KeptBar
from nesting.planning.urgency import ranks_of


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """
    Bars of a new plan.

    Parameters
    ----------
    bars
        Cut, frozen and open ones, in the order of their numbers.
    out
        Pieces without a bar.
    gaps
        Of each material that was planned afresh, and by itself, how far its cost is above what is
        proved; materials that are missing have no proof.
    """

    bars: tuple[KeptBar, ...]
    out: tuple[Unplaced, ...]
    gaps: Mapping[Material, int]


def whole_plan(
    before: Plan,
    rebuilt: Rebuilt,
    request: Request,
    whole: Mapping[Material, Group],
    *,
    name: str,
    seed: int,
    fresh: Rebuilt,
) -> Plan:
    """
    Put a plan together that follows another one.

    Cost and order are those of all its bars, the cut ones included, so that the document holds the
    whole picture. No plan that keeps the cut and frozen bars costs less than the fresh plan's bound.

    Parameters
    ----------
    whole
        Every material's group with its terms, and what was ordered of it before.
    fresh
        The fresh plan, whose gaps bound both.
    """
    settled: list[Settled] = []
    groups: list[GroupPlan] = []
    costs: dict[int, Money] = {}
    left_out = sum(one.length for one in rebuilt.out)
    pieces = {piece.id: piece for piece in before.pieces}
    ranks = ranks_of(request)
    numbers = [bar.number for group in before.groups for bar in group.bars]
    comparable = left_out == sum(one.length for one in fresh.out)
    for material in sorted({one.material for one in rebuilt.bars}):
        group = whole[material]
        bars = order_after_report(
            [one.bar for one in rebuilt.bars if one.material == material],
            pieces,
            goals=group.goals,
            ranks=ranks,
            before=numbers,
        )
        one = _settled(group, bars)
        at_best = _settled(group, tuple(b.bar for b in fresh.bars if b.material == material)).result.cost
        gap = fresh.gaps.get(material)
        bound = 0 if gap is None or not comparable else min(max(at_best - gap, 0), one.result.cost)
        settled.append(one)
        costs.update(bar_costs(one, bars))
        groups.append(
            group_plan(
                # Spares from tails are wanted however many bars of the reserve are left.
                replace(group, spares=request.buying.spares),
                bars,
                cost=one.result.cost,
                bound=bound,
                ended=StopReason.PROVED if bound == one.result.cost else StopReason.LEAST_CHANGE,
                open_units=most_open_of(bars, before.pieces),
            )
        )
    whole_runs = tuple(one for one in before.unplaced if not one.piece)
    return replace(
        before,
        id=name,
        request=request,
        groups=tuple(groups),
        order=in_order(said_of_before(order_lines(request, settled), ordered_by(before))),
        jobs=job_shares(groups, before.pieces, costs),
        unplaced=(*whole_runs, *rebuilt.out),
        seed=seed,
        follows=before.id,
        revision=before.revision + 1,
    )


def _settled(group: Group, bars: tuple[PlannedBar, ...]) -> Settled:
    """Give what some bars of a material cost, as if they had been planned in one go."""
    packing = opened_packing(group, bars)
    kinds = len(group.market.uses)
    opened = [0] * kinds
    for use in packing.uses:
        if use.bar < kinds:
            opened[use.bar] += use.times
    reserve = group.spares.reserve(sum(opened))
    held = replace(group, market=held_market(group, reserve)) if reserve else group
    bill = held.market.bill(opened)
    if bill is None:
        raise SolverFault(f"{group.material}: more bars are planned than can be had")
    charged = sum(group.problem.bars[use.bar].cost for use in packing.uses if use.bar >= kinds)
    cost = bill.cost + charged
    result = Result(best=packing, cost=cost, bound=cost, ended=StopReason.LEAST_CHANGE, report=SolverReport())
    return Settled(held, result, bill)
