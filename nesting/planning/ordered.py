"""What the plans before have ordered: bars that are there, and the reserve among them that may be cut."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from nesting.domain.buying import NO_SPARES
from nesting.domain.plan import OrderLine, Plan
from nesting.money import NO_MONEY
from nesting.planning.group import Group
from nesting.purchasing.market import Market
from nesting.purchasing.offer import Offer

Position = tuple[str, int]
"""Lot and index into the request's stock."""


@dataclass(frozen=True, slots=True)
class Ordered:
    """
    What the plans before have ordered of one stock line for one lot.

    Parameters
    ----------
    line
        The line of their last order.
    bars
        Most bars that any of them ordered.
    reserve
        Bars among them that were wanted as a reserve, cut since or not.
    """

    line: OrderLine
    bars: int
    reserve: int


def ordered_by(plan: Plan) -> dict[Position, Ordered]:
    """Give what a plan and those before it have ordered; lines that buy what nobody offers are left out."""
    found = {}
    for line in plan.order:
        index = line.stock if line.stock is not None else _offered(plan, line)
        if index is not None:
            bars = max(line.bars, line.ordered)
            found[line.lot, index] = Ordered(line, bars, line.reserve + line.reserve_used)
    return found


def with_ordered(group: Group, ordered: Mapping[Position, Ordered]) -> Group:
    """
    Give a group whose reserve is what was ordered as such, and may be cut.

    Where nothing of its material was ordered before, the reserve is asked for as in a first plan. Bars
    from the shelf count as far as they are still there.
    """
    lot = group.material.lot
    known = {o.line: ordered[lot, o.line] for o in group.market.offers if (lot, o.line) in ordered}
    if not known:
        return group
    offers = tuple(
        _with_reserve(offer, known[offer.line]) if offer.line in known else offer
        for offer in group.market.offers
    )
    return replace(group, market=Market(offers, group.market.uses), spares=NO_SPARES)


def holds_reserve(group: Group, ordered: Mapping[Position, Ordered]) -> bool:
    """Whether bars of a group were ordered as a reserve before."""
    places = [(group.material.lot, offer.line) for offer in group.market.offers]
    return any(ordered[at].reserve for at in places if at in ordered)


def said_of_before(lines: Iterable[OrderLine], ordered: Mapping[Position, Ordered]) -> tuple[OrderLine, ...]:
    """
    Give order lines that say what was ordered before, and lines of bars that nothing is cut from any more.

    Of the reserve, what such a plan no longer holds is used.
    """
    said = []
    left = dict(ordered)
    for line in lines:
        known = left.pop((line.lot, line.stock), None) if line.stock is not None else None
        if known is not None:
            line = replace(line, ordered=known.bars, reserve_used=max(known.reserve - line.reserve, 0))
        said.append(line)
    for (_, index), known in left.items():
        if known.bars:
            listed = known.line.price if known.line.listed is None else known.line.listed
            said.append(
                replace(
                    known.line,
                    stock=index,
                    bars=0,
                    price=listed,
                    sum=None if listed is None else NO_MONEY,
                    on_hand=0,
                    reserve=0,
                    spare=0,
                    listed=None,
                    ordered=known.bars,
                    reserve_used=0,
                )
            )
    return tuple(said)


def _with_reserve(offer: Offer, known: Ordered) -> Offer:
    if not known.reserve:
        return offer
    return replace(offer, reserve=known.reserve, ordered=known.bars + min(known.line.on_hand, offer.hand))


def _offered(plan: Plan, line: OrderLine) -> int | None:
    kind = (line.family, line.finish, line.part, line.length, line.price)
    alike = (
        index
        for index, stock in enumerate(plan.request.stock)
        if (stock.family, stock.finish, stock.part.value, stock.length, stock.price) == kind
    )
    return next(alike, None)
