"""What one material can be cut from: new bars on their terms, bars on hand, offcuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nesting.domain.buying import BreakScope, offcut_worth
from nesting.domain.material import LotRule, Material, Part
from nesting.domain.problem import BarKind
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.stock import Offcut, StockLine
from nesting.money import NO_MONEY, Money
from nesting.planning.group import stock_key
from nesting.purchasing.market import Market
from nesting.purchasing.offer import Offer
from nesting.units import Length


@dataclass(frozen=True, slots=True)
class Supply:
    """
    Bars of one material.

    Parameters
    ----------
    bars
        New bars at list prices, or at 1 each without prices; then the offcuts.
    market
        The terms of the new bars, in their order.
    priced
        Whether costs are money.
    """

    bars: tuple[BarKind, ...]
    market: Market
    priced: bool


def supply_of(request: Request, material: Material, saw: SawRules, *, follows: bool) -> Supply:
    """
    Give the bars a material may be cut from.

    An order is one material's alone, lot by lot: packs are not shared between lots, and breaks count
    the bars of one lot from one supplier. Bars on hand are of no known lot, so pieces that must be
    of one lot, by name or room by room, do not take them; nor do rooms take offcuts.

    Parameters
    ----------
    follows
        Whether each bar is cut together with a cover bar of its length.
    """
    family = request.family(material.family)
    by_room = family is not None and family.lot_rule is LotRule.ROOM
    channels = [
        (index, line)
        for index, line in enumerate(request.stock)
        if (line.family, line.finish, line.part) == (material.family, material.finish, material.part)
    ]
    covers = covers_listed(request, material.family, material.finish) if follows else ()
    pairs = []
    for channel in channels:
        cover = next((c for c in covers if c[1].length == channel[1].length), None)
        if cover or not covers:
            pairs.append((channel, cover) if cover else (channel,))
    lines = tuple(dict.fromkeys(one for pair in pairs for one in pair))
    priced = bool(lines) and all(line.price is not None for _, line in lines)
    buckets = tuple(dict.fromkeys((line.part, line.supplier) for _, line in lines))
    offers = tuple(
        _offer(index, line, buckets.index((line.part, line.supplier)), material, priced=priced)
        for index, line in lines
    )
    if material.lot or by_room:
        offers = tuple(replace(offer, hand=0) for offer in offers)
    market = Market(offers, tuple(tuple(lines.index(one) for one in pair) for pair in pairs))
    bars = [
        BarKind(
            key=stock_key(index),
            length=line.length,
            head=saw.head_trim,
            tail=saw.tail_loss,
            cost=sum(offers[o].price for o in market.uses[kind]),
            count=market.limit(kind),
        )
        for kind, ((index, line), *_) in enumerate(pairs)
    ]
    bars += [
        _offcut(request, offcut, saw, [line for _, line in channels], priced=priced)
        for offcut in request.offcuts
        if _serves(offcut, material, by_room=by_room)
    ]
    return Supply(tuple(bars), market, priced)


def covers_listed(request: Request, family: str, finish: str) -> tuple[tuple[int, StockLine], ...]:
    """Give (index, line) of the cover bars on offer; none means that they come with the channel."""
    return tuple(
        (index, line)
        for index, line in enumerate(request.stock)
        if line.part is Part.COVER and line.family == family and line.finish == finish
    )


def with_reserve(market: Market, kind: int, bars: int) -> Market:
    """Give the market with so many more bars of one kind wanted than the plan opens, covers included."""
    offers = tuple(
        replace(offer, reserve=bars) if o in market.uses[kind] else offer
        for o, offer in enumerate(market.offers)
    )
    return Market(offers, market.uses)


def _offer(index: int, line: StockLine, bucket: int, material: Material, *, priced: bool) -> Offer:
    most = None if line.count is None else line.count - line.on_hand
    terms = Offer(
        line=index,
        bucket=bucket,
        price=int(line.price or NO_MONEY) if priced else int(line.part is material.part),
        pack=line.pack,
        minimum=line.minimum,
        most=most,
        hand=line.on_hand,
    )
    if not priced:
        return terms
    return replace(
        terms,
        hand_cost=int(line.hand_value or NO_MONEY),
        line_breaks=tuple((b.bars, int(line.price_after(b))) for b in line.breaks_on(BreakScope.LINE)),
        total_breaks=tuple((b.bars, int(line.price_after(b))) for b in line.breaks_on(BreakScope.TOTAL)),
    )


def _offcut(
    request: Request, offcut: Offcut, saw: SawRules, lines: Sequence[StockLine], *, priced: bool
) -> BarKind:
    head, tail = offcut.losses(saw)
    return BarKind(
        key=offcut.tag,
        length=offcut.length,
        head=head,
        tail=tail,
        cost=int(charge_of(request, offcut, saw, lines)) if priced else 0,
        count=1,
        offcut=True,
    )


def charge_of(request: Request, offcut: Offcut, saw: SawRules, lines: Sequence[StockLine]) -> Money:
    """
    Give what taking an offcut costs the job: its own value, else the request's rule, and the fetching.

    Parameters
    ----------
    lines
        New bars of its material, by whose prices the rule measures.
    """
    rule = request.buying.offcut_value
    value = offcut.value
    if value is None and rule is not None:
        prices = tuple((line.price, line.length) for line in lines if line.price is not None)
        longest = max((line.length for line in lines), default=Length(0))
        value = offcut_worth(offcut.length, keep=saw.keep_length, longest=longest, prices=prices, rule=rule)
    return Money((value or NO_MONEY) + request.buying.fetch)


def _serves(offcut: Offcut, material: Material, *, by_room: bool) -> bool:
    """
    Whether an offcut may be cut for a material.

    A group bound to a lot takes its own lot only. Where every room must be of one lot, new bars are
    one delivery but an offcut may be of any lot, so none is taken.
    """
    same = (offcut.family, offcut.finish, offcut.part) == (material.family, material.finish, material.part)
    return same and (offcut.lot == material.lot if material.lot else not by_room)
