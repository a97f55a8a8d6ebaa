"""One group solved: its patterns, and the bill for its bars."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nesting.domain.goals import GoalPrice, Slivers
from nesting.domain.packing import Packing
from nesting.domain.plan import Alternative
from nesting.domain.problem import Problem
from nesting.domain.progress import Progress, Result, StopReason
from nesting.errors import SolverFault
from nesting.planning.group import Group, on_terms
from nesting.planning.lowest_prices import certified
from nesting.planning.mitred import widest_stroke
from nesting.planning.mitred_bar import laid_slivers
from nesting.planning.mitred_chains import tied
from nesting.planning.mitred_layout import lay
from nesting.planning.slivers import can_sliver, is_exact, mended, sliver_count, sparing
from nesting.planning.supply import with_reserve
from nesting.purchasing.market import Bill, Market
from nesting.purchasing.search import buy
from nesting.solver.observe import SILENT, Observer
from nesting.solver.params import SolverParams
from nesting.solver.solve import solve
from nesting.stop import NEVER, Stop

_NOTHING = Bill(0, ())


@dataclass(frozen=True, slots=True)
class Settled:
    """
    One group's answer.

    Parameters
    ----------
    group
        With the reserve in its market, when one is wanted.
    result
        Its cost and bound are what is really paid.
    bill
        What to order and what to take from the bars on hand, offer by offer.
    alternative
        The next-best purchase, when it was looked for.
    goals
        Second goals pursued so far, with their prices.
    """

    group: Group
    result: Result
    bill: Bill
    alternative: Alternative | None = None
    goals: tuple[GoalPrice, ...] = ()


def settle(
    group: Group,
    *,
    seed: int = 0,
    stop: Stop = NEVER,
    observer: Observer = SILENT,
    params: SolverParams = SolverParams(),  # noqa: B008 - frozen
) -> Settled:
    """
    Solve a group on the prices really paid.

    Where every bar costs its list price the solver's answer is the whole answer. A reserve is a share
    of the new bars opened; it is raised until it is enough for the plan that is found with it. Where
    slivers are forbidden and the cheapest bars have some, the cheapest without is looked for; what no
    plan at all can go below stays its bound. Mitred pieces are laid with their real faces, whatever
    else is asked for, see `nesting.planning.mitred_layout`.
    """
    if group.mitre is not None:
        laid = _laid(group, seed, stop, observer)
        forbidden = group.goals.slivers is Slivers.FORBID
        return _laid_without_slivers(laid, group, seed, stop, observer) if forbidden else laid
    free = _settle(group, seed, stop, observer, params)
    if group.goals.slivers is not Slivers.FORBID:
        return free
    problem, before = group.problem, free.result
    count = sliver_count(problem, before.best)
    found = _without_slivers(free, seed, stop, observer) if count else free
    price = GoalPrice(
        goal="slivers",
        cost_before=before.cost,
        cost_after=found.result.cost,
        value_before=count,
        value_after=sliver_count(problem, found.result.best),
        lower_bound=0,
    )
    return replace(found, goals=(price,))


def _laid(group: Group, seed: int, stop: Stop, observer: Observer) -> Settled:
    """Give bars that hold mitred pieces as they are; the answer for centre lines bounds their cost."""
    settled = _settle(group, seed, stop, observer)
    if group.mitre is None or lay(settled.group, settled.result.best) is not None:
        return settled
    others = [_settle(other, seed, stop, observer) for other in tied(group)]
    least = min(others, key=lambda one: (one.result.short, one.result.cost))
    return replace(least, result=_bounded(least.result, settled.result))


def _laid_without_slivers(laid: Settled, group: Group, seed: int, stop: Stop, observer: Observer) -> Settled:
    """Give bars of mitred pieces with a whole stroke behind every last one, where some had less."""
    before = laid_slivers(laid.group, laid.result.best)
    found = laid
    if before:
        spared = sparing(group.problem, widest_stroke(group.pieces, group.saw.kerf))
        if spared is None:
            raise SolverFault(f"{group.material}: a piece was let in that only a sliver gives")
        strict = _laid(replace(group, problem=spared), seed, stop, observer)
        problem = replace(strict.group.problem, bars=group.problem.bars)
        found = replace(
            strict,
            group=replace(strict.group, problem=problem),
            result=_bounded(strict.result, laid.result),
        )
    price = GoalPrice(
        goal="slivers",
        cost_before=laid.result.cost,
        cost_after=found.result.cost,
        value_before=before,
        value_after=laid_slivers(found.group, found.result.best),
        lower_bound=0,
    )
    return replace(found, goals=(price,))


def _without_slivers(free: Settled, seed: int, stop: Stop, observer: Observer) -> Settled:
    """Give the cheapest answer found whose bars leave no sliver, with what is proved without the ban."""
    group, problem = free.group, free.group.problem
    found: list[Settled] = []
    proved = free.result
    if can_sliver(problem) and (spared := sparing(problem)) is not None:
        strict = _settle(replace(group, problem=spared), seed, stop, observer)
        if is_exact(problem):
            proved = strict.result
        found.append(replace(strict, group=replace(strict.group, problem=problem)))

    def layout(part: Problem) -> Packing:
        return solve(part, seed=seed, stop=stop).best

    packing = mended(problem, free.result.best, layout)
    other = replace(free.result, best=packing)
    bill = group.market.bill(opened(group, other)) if group.market.uses else _NOTHING
    if bill is not None:
        kinds = len(group.market.uses)
        charged = sum(problem.bars[use.bar].cost * use.times for use in packing.uses if use.bar >= kinds)
        short = sum(a * n for a, n in zip(problem.lengths, packing.short, strict=True))
        found.append(Settled(group, replace(other, cost=bill.cost + charged, short=short), bill))
    if not found:
        raise SolverFault(f"{group.material}: the bars left cannot be paid for")
    best = min(found, key=lambda one: (one.result.short, one.result.cost))
    return replace(best, result=_bounded(best.result, proved))


def _bounded(result: Result, proved: Result) -> Result:
    """Give a result that satisfies more than another one asked for with what that one proves."""
    holds = result.short <= proved.short
    bounded = replace(
        result,
        bound=min(proved.bound, result.cost) if holds else 0,
        certificate=proved.certificate if holds else None,
        short_bound=min(proved.short_bound, result.short),
    )
    ended = proved.ended
    if bounded.proved:
        ended = StopReason.PROVED
    elif ended is StopReason.PROVED:
        ended = StopReason.EXHAUSTED
    return replace(bounded, ended=ended)


def _settle(
    group: Group,
    seed: int,
    stop: Stop,
    observer: Observer,
    params: SolverParams = SolverParams(),  # noqa: B008 - frozen
) -> Settled:
    market = group.market
    spares = group.spares
    wanted = spares.reserve(1) > 0
    if market.plain and not wanted:
        result = solve(group.problem, seed=seed, stop=stop, observer=observer, params=params)
        return Settled(group, result, market.bill(opened(group, result)) or _NOTHING)
    reserve = 0
    if wanted:
        first = solve(group.problem, seed=seed, stop=_interrupts(stop), params=params)
        reserve = spares.reserve(sum(opened(group, first)))
    while True:
        held = _held(group, reserve)
        bought = buy(held.problem, held.market, seed=seed, stop=stop, observer=observer, params=params)
        enough = spares.reserve(sum(opened(held, bought.result)))
        if enough <= reserve:
            return Settled(held, certified(group, bought.result, seed, stop), bought.bill)
        reserve = enough


def _interrupts(stop: Stop) -> Stop:
    """Give a criterion's interruptions alone: what it wants of the money paid says nothing of list prices."""

    def interrupted(now: Progress) -> StopReason | None:
        why = stop(now)
        return why if why in (StopReason.TIME, StopReason.CANCELLED) else None

    return interrupted


def opened(group: Group, result: Result) -> list[int]:
    """Give the bars opened of each kind of new bar."""
    counts = [0] * len(group.market.uses)
    for use in result.best.uses:
        if use.bar < len(counts):
            counts[use.bar] += use.times
    return counts


def held_market(group: Group, reserve: int) -> Market:
    """
    Give a group's market with a reserve of so many bars, or of as many as there are.

    It is put on the cheapest kind of bar that holds the longest piece, so that it can become any, and of
    which there are enough; where there are enough of none, on the one of which there are most.
    """
    longest = group.problem.lengths[0]
    bars = group.problem.bars
    limits = {
        k: reserve if (limit := group.market.limit(k)) is None else min(limit, reserve)
        for k in range(len(group.market.uses))
        if bars[k].usable >= longest
    }
    if not limits:
        return group.market
    kind = min(limits, key=lambda k: (-limits[k], bars[k].cost, bars[k].length))
    return with_reserve(group.market, kind, limits[kind])


def _held(group: Group, reserve: int) -> Group:
    """Give a group with a reserve of so many bars taken off those that a plan may open."""
    return on_terms(group, held_market(group, reserve)) if reserve else group
