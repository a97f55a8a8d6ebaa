"""One group solved: its patterns, and the bill for its bars."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nesting.domain.plan import Alternative
from nesting.domain.progress import Result
from nesting.planning.group import Group
from nesting.planning.supply import with_reserve
from nesting.purchasing.market import Bill, Market
from nesting.purchasing.search import buy
from nesting.solver.observe import SILENT, Observer
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
        The best of the simpler purchases, when it was looked for.
    """

    group: Group
    result: Result
    bill: Bill
    alternative: Alternative | None = None


def settle(group: Group, *, seed: int = 0, stop: Stop = NEVER, observer: Observer = SILENT) -> Settled:
    """
    Solve a group on the prices really paid.

    Where every bar costs its list price the solver's answer is the whole answer. A reserve is a share
    of the new bars opened; it is raised until it is enough for the plan that is found with it.
    """
    market = group.market
    spares = group.spares
    if market.plain and spares.reserve(1) == 0:
        result = solve(group.problem, seed=seed, stop=stop, observer=observer)
        return Settled(group, result, market.bill(opened(group, result)) or _NOTHING)
    reserve = spares.reserve(sum(opened(group, solve(group.problem, seed=seed, stop=stop))))
    while True:
        held = replace(group, market=held_market(group, reserve)) if reserve else group
        bought = buy(held.problem, held.market, seed=seed, stop=stop, observer=observer)
        wanted = spares.reserve(sum(opened(held, bought.result)))
        if wanted <= reserve:
            return Settled(held, bought.result, bought.bill)
        reserve = wanted


def opened(group: Group, result: Result) -> list[int]:
    """Give the bars opened of each kind of new bar."""
    counts = [0] * len(group.market.uses)
    for use in result.best.uses:
        if use.bar < len(counts):
            counts[use.bar] += use.times
    return counts


def held_market(group: Group, reserve: int) -> Market:
    """
    Give a group's market with a reserve of so many bars.

    It is put on the cheapest kind of bar that holds the longest piece, so that it can become any.
    """
    longest = group.problem.lengths[0]
    kinds = [k for k in range(len(group.market.uses)) if group.problem.bars[k].usable >= longest]
    bars = group.problem.bars
    if not kinds:
        return group.market
    kind = min(kinds, key=lambda k: (bars[k].cost, bars[k].length))
    return with_reserve(group.market, kind, reserve)
