"""What can be checked of a bound on the money paid: no plan costs less than at the lowest prices of all."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.problem import Problem
from nesting.domain.progress import Progress, Result, StopReason
from nesting.planning.group import Group
from nesting.purchasing.search import QUICK
from nesting.solver.solve import solve
from nesting.stop import Stop


def at_lowest_prices(group: Group) -> Problem:
    """
    Give the problem with every bar at the least it can cost on any terms, and as many as there are.

    Bars on hand stand apart, behind all others, since there are only so many of them at their price;
    but not where a cover goes with them, of which more or fewer may be on hand.
    """
    bars = list(group.problem.bars)
    for kind, uses in enumerate(group.market.uses):
        offers = [group.market.offers[o] for o in uses]
        if len(offers) == 1 and offers[0].hand:
            (offer,) = offers
            shelf = replace(
                bars[kind], key=f"{bars[kind].key} on hand", cost=offer.hand_cost, count=offer.hand
            )
            bars.append(shelf)
            bars[kind] = replace(bars[kind], cost=min(offer.units()), count=offer.most)
            continue
        reach = [offer.reach for offer in offers if offer.reach is not None]
        bars[kind] = replace(
            bars[kind], cost=sum(offer.lowest for offer in offers), count=min(reach) if reach else None
        )
    return replace(group.problem, bars=tuple(bars))


def certified(group: Group, result: Result, seed: int, stop: Stop) -> Result:
    """
    Add what anybody can check: the bound at the lowest prices, by its duals.

    No plan can cost less than it would if every bar had the least price it can have on any terms; what
    the search over ranges of bars proves beyond that has to be trusted.
    """
    if result.short:
        return result
    linear = solve(at_lowest_prices(group), seed=seed, stop=_once_bounded(stop), params=QUICK).certificate
    if linear is None:
        return result
    ranges = dict(result.report.counters).get("ranges", 0)
    certificate = replace(
        linear,
        bound=result.bound,
        dual_bound=min(linear.dual_bound, result.bound),
        room_bound=min(linear.room_bound, result.bound),
        closed_by="",
    )
    if result.bound > certificate.checkable:
        certificate = replace(certificate, closed_by=f"branch and bound over {ranges} ranges of bars")
    return replace(result, certificate=certificate)


def _once_bounded(stop: Stop) -> Stop:
    """Give a criterion that ends a search whose duals alone are wanted: once it turns to rounding."""

    def bounded(now: Progress) -> StopReason | None:
        rounding = now.phase in ("round", "close") and now.bound and not now.short
        return StopReason.EXHAUSTED if rounding else stop(now)

    return bounded
