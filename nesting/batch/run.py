"""The main job: a request in, an audited plan out."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import replace

from nesting.batch.fixtures import whole_fixtures
from nesting.batch.growth import with_growth
from nesting.batch.left_out import unfinished, used_up
from nesting.batch.pool import Limits, solve_chains
from nesting.batch.split import Split, split
from nesting.batch.watch import Flag, Unwatched, Watcher
from nesting.domain.digest import in_normal_order, plan_id
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.plan import GroupPlan, Plan, Unplaced
from nesting.domain.reels import ReelPlan
from nesting.domain.request import Request
from nesting.errors import Finding, Severity, SolverFault, Where
from nesting.money import Money
from nesting.planning.assemble import assemble
from nesting.planning.bar_order import most_open_of, order_bars, order_laid
from nesting.planning.gangs import gang_price
from nesting.planning.group_plan import group_plan
from nesting.planning.purchase import bar_costs, job_shares, order_lines
from nesting.planning.purpose import for_purpose
from nesting.planning.settle import Settled
from nesting.planning.stops import with_stop_order
from nesting.planning.urgency import Ranks, ranks_of
from nesting.stop import AnyOf, Cancelled, MaxRuntime, Stop
from nesting.takeoff.advice import electric_findings, heat_findings, solder_findings
from nesting.takeoff.small_parts import small_parts_of
from nesting.takeoff.take_off import take_off
from nesting.verify import violations


def plan_request(
    request: Request,
    limits: Limits | None = None,
    *,
    watcher: Watcher | None = None,
    cancel: Flag | None = None,
) -> Plan:
    """
    Plan every run of a request: take-off, nesting by material, bars, order, audit.

    Parameters
    ----------
    limits
        Seed, seconds and processes.
    watcher
        Told how each group stands.
    cancel
        Once set, the best plan so far is returned.

    Raises
    ------
    SolverFault
        When the finished plan fails its audit, which no input should be able to cause.
    """
    limits = limits or Limits()
    request = in_normal_order(request)
    taken, left_out = for_purpose(request)
    taken_off = take_off(taken)
    stop = threading.Event() if cancel is None else cancel

    def solve(pieces: Sequence[Piece]) -> tuple[Split, list[tuple[Settled, ...]]]:
        parts = split(request, pieces)
        return parts, solve_chains(parts.chains, limits, watcher=watcher or Unwatched(), cancel=stop)

    ranks = ranks_of(request)
    made = whole_fixtures(taken_off.pieces, solve, limits, stop, ranks)
    parts, chains = made.parts, made.chains
    reels = _reels(request, taken_off.strips, limits, stop)
    name = plan_id(request, seed=limits.seed)
    solved = sorted((s for chain in chains for s in chain), key=lambda s: s.group.material)
    groups: list[GroupPlan] = []
    short: list[Unplaced] = []
    costs: dict[int, Money] = {}
    number = 1
    for one in solved:
        group, used_up, own = _finish(one, number, name, ranks)
        groups.append(group)
        short.extend(used_up)
        costs.update(own)
        number += len(group.bars)
    if limits.growth:
        groups = [
            replace(
                group,
                margins=with_growth(request, group, seed=limits.seed, seconds=limits.seconds, cancel=stop),
            )
            for group in groups
        ]
    plan = Plan(
        id=name,
        request=request,
        pieces=taken_off.pieces,
        strips=taken_off.strips,
        groups=tuple(groups),
        order=order_lines(request, solved),
        jobs=job_shares(groups, taken_off.pieces, costs),
        unplaced=(*left_out, *taken_off.unplaced, *parts.unplaced, *short, *map(unfinished, made.left_out)),
        findings=(
            *request.findings,
            *taken_off.findings,
            *heat_findings(request, taken_off.pieces),
            *electric_findings(request, taken_off.strips),
            *solder_findings(reels),
            *_shared_supply(chains),
            *_ban_on_slivers(groups),
        ),
        seed=limits.seed,
        small_parts=small_parts_of(request, taken_off.pieces, taken_off.strips),
        reels=reels,
    )
    found = violations(plan)
    if found:
        raise SolverFault("the plan failed its audit:\n" + "\n".join(str(v) for v in found))
    return plan


def _reels(
    request: Request, strips: Sequence[StripCut], limits: Limits, cancel: Flag
) -> tuple[ReelPlan, ...]:
    """Nest the strip last, with the seconds of a whole batch: it is small beside the bars."""
    if not strips:
        return ()
    from nesting.planning.reels import plan_reels  # the solver takes long to load

    stops: list[Stop] = [Cancelled(cancel)]
    if limits.seconds is not None:
        stops.append(MaxRuntime(limits.seconds))
    return plan_reels(request, strips, seed=limits.seed, stop=AnyOf(*stops))


def _finish(
    one: Settled, number: int, name: str, ranks: Ranks
) -> tuple[GroupPlan, list[Unplaced], dict[int, Money]]:
    result = one.result
    order = order_bars(one.group, result.best, ranks=ranks, cost=result.cost)
    group = order.group
    assembly = assemble(
        group, result.best, first_number=number, tag_prefix=name[:6].upper(), order=order.blocks
    )
    goals = [*one.goals, *order.goals]
    if group.mitre is not None:
        bars, told = order_laid(
            assembly.bars, group, ranks=ranks, cost=result.cost, tag_prefix=name[:6].upper()
        )
        assembly = replace(assembly, bars=bars)
        goals.extend(told)
    if group.goals.fewer_patterns and group.goals.gang == 1 and group.mitre is None:
        # Bars of one gang need one order of their cuts, so there the stop is left as it is.
        bars, price = with_stop_order(assembly.bars, group, cost=result.cost)
        assembly = replace(assembly, bars=bars)
        goals.append(price)
    if group.goals.gang > 1:
        goals.append(gang_price(assembly.bars, group.goals.gang, cost=result.cost))
    told = tuple(goals)
    if group.goals.long_tail:
        from nesting.planning.long_tail import tail_price  # the solver takes long to load

        told = tail_price(assembly.bars, told, cost=result.cost)
    planned = group_plan(
        group,
        assembly.bars,
        cost=result.cost,
        bound=result.bound,
        ended=result.ended,
        seconds=result.report.seconds,
        certificate=result.certificate,
        alternative=one.alternative,
        goals=told,
        open_units=most_open_of(assembly.bars, group.pieces),
    )
    return planned, [used_up(piece) for piece in assembly.short], bar_costs(one, assembly.bars)


def _ban_on_slivers(groups: Sequence[GroupPlan]) -> list[Finding]:
    """Say where the ban on slivers changed the bars, and that its price may be more than it had to be."""
    return [
        Finding(
            severity=Severity.NOTE,
            code="slivers-avoided",
            where=Where("plan"),
            found=str(group.material),
            message=(
                "The cheapest bars had a last stroke with less than a kerf of metal; these have none. "
                "Where bars may come out exactly, having no tail loss, not all such bars were looked at; "
                "the bound is then the one without the ban."
            ),
        )
        for group in groups
        for price in group.goals
        if price.goal == "slivers" and price.value_before
    ]


def _shared_supply(chains: Sequence[tuple[Settled, ...]]) -> list[Finding]:
    return [
        Finding(
            severity=Severity.NOTE,
            code="shared-supply",
            where=Where("plan"),
            found=", ".join(str(one.group.material) for one in chain),
            message=(
                "These materials draw on the same limited bars or offcuts and were planned one after "
                "the other; each proof holds for what the ones before it left."
            ),
        )
        for chain in chains
        if len(chain) > 1
    ]
