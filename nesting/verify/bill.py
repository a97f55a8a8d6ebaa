"""
What the bars of a plan really cost, worked out once more from the terms of the request.

An order is one material's, lot by lot. Of the breaks an order reaches the lowest price counts; packs and
minimums bind every order; bars on hand serve only pieces that may be of any lot.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from nesting.domain.buying import BreakScope
from nesting.domain.material import LotRule, Material, Part
from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.domain.request import Request
from nesting.domain.stock import Offcut, StockLine
from nesting.verify.supply import family_follows, saw_of, source_of

Key = tuple[str, int]
"""Lot and index into the request's stock: one position of the order."""


@dataclass(frozen=True, slots=True)
class Position:
    """
    One line of the order as it has to be.

    Parameters
    ----------
    line
        The stock line it buys.
    opened
        New bars of it that the plan opens.
    bars, hand
        Bars ordered and taken from those on hand.
    unit
        Price of a bar that the order reaches; None when no price is known.
    """

    line: StockLine
    opened: int
    bars: int
    hand: int
    unit: int | None

    @property
    def due(self) -> int | None:
        """What ordering and taking from the shelf come to."""
        charge = self.hand * int(self.line.hand_value or 0)
        return None if self.unit is None else self.bars * self.unit + charge


def key_of(plan: Plan, order: OrderLine) -> Key | None:
    """Find which stock line an order line buys; None when none is offered so."""
    alike = [
        index
        for index, line in enumerate(plan.request.stock)
        if (line.family, line.finish, line.part.value, line.length)
        == (order.family, order.finish, order.part, order.length)
    ]
    if order.stock is not None:
        return (order.lot, order.stock) if order.stock in alike else None
    same = [i for i in alike if plan.request.stock[i].price == order.price]
    return (order.lot, same[0]) if same else None


class Bills:
    """
    The positions of a plan's order, and what each group's bars come to.

    Where nothing but the need decides how many are ordered, the bars opened are counted, not those
    the order names.

    Attributes
    ----------
    positions
        Every position that is opened or ordered.
    """

    def __init__(self, plan: Plan) -> None:
        self._request = plan.request
        opened: Counter[Key] = Counter()
        # Bar numbers that pay for a position, group by group.
        self._payers: defaultdict[tuple[Material, Key], list[int]] = defaultdict(list)
        for group in plan.groups:
            for bar in group.bars:
                for index in lines_of(plan.request, group, bar.source):
                    key = (group.material.lot, index)
                    opened[key] += 1
                    self._payers[group.material, key].append(bar.number)
        ordered: Counter[Key] = Counter()
        hand: Counter[Key] = Counter()
        extra: Counter[Key] = Counter()
        for order in plan.order:
            named = key_of(plan, order)
            if named is not None:
                ordered[named] += order.bars
                hand[named] += order.on_hand
                extra[named] += order.reserve
        totals: Counter[tuple[str, ...]] = Counter()
        for key, bars in ordered.items():
            totals[self._bucket(key)] += bars
        self.positions: dict[Key, Position] = {}
        for key in sorted(opened.keys() | ordered.keys()):
            line = plan.request.stock[key[1]]
            plain = line.pack == 1 and line.minimum <= 1 and not line.breaks
            bars = opened[key] + extra[key] - hand[key] if plain else ordered[key]
            unit = unit_of(line, bars, totals[self._bucket(key)])
            self.positions[key] = Position(line, opened[key], bars, hand[key], unit)

    def of(self, group: GroupPlan) -> list[Key]:
        """Give the positions that a group pays for: its own bars, and the covers that go with them."""
        material = group.material
        parts = {material.part}
        if family_follows(self._request, material):
            parts.add(Part.COVER)
        return [
            key
            for key, position in self.positions.items()
            if key[0] == material.lot
            and (position.line.family, position.line.finish) == (material.family, material.finish)
            and position.line.part in parts
        ]

    def paid(self, group: GroupPlan) -> int | None:
        """Give what a group's bars come to, shelf and offcuts included; None when a price is unknown."""
        total = sum(self._charges(group).values())
        for key in self.of(group):
            due = self.positions[key].due
            if due is None:
                return None
            total += due
        return total

    def by_bars(self, group: GroupPlan) -> dict[int, tuple[int, int]] | None:
        """
        Give least and most that each bar may be charged, by its number; None when a price is unknown.

        A position's cost is spread evenly over the bars opened of it, whole ten-thousandths either way;
        over all bars of the group when none is opened of it.
        """
        charges = self._charges(group)
        low = {bar.number: charges.get(bar.number, 0) for bar in group.bars}
        high = dict(low)
        for key in self.of(group):
            due = self.positions[key].due
            if due is None:
                return None
            numbers = self._payers.get((group.material, key)) or list(low)
            for number in numbers:
                low[number] += due // len(numbers)
                high[number] += -(-due // len(numbers))
        return {number: (low[number], high[number]) for number in low}

    def bought(self, group: GroupPlan) -> int:
        """Count the bars a group buys, the covers that go with them not counted."""
        positions = [self.positions[key] for key in self.of(group)]
        return sum(position.bars for position in positions if position.line.part is group.material.part)

    def _charges(self, group: GroupPlan) -> dict[int, int]:
        """Give what each offcut of a group is charged with, by the bar's number."""
        charges = {}
        for bar in group.bars:
            source = source_of(self._request, group.material, bar.source)
            if source is not None and isinstance(source.bar, Offcut):
                charges[bar.number] = offcut_charge(self._request, group.material, source.bar)
        return charges

    def _bucket(self, key: Key) -> tuple[str, ...]:
        line = self._request.stock[key[1]]
        return (key[0], line.family, line.finish, line.part.value, line.supplier)


def lines_of(request: Request, group: GroupPlan, key: str) -> tuple[int, ...]:
    """Give the indices of the stock lines that one bar takes from: its own, and its cover's."""
    source = source_of(request, group.material, key)
    if source is None or isinstance(source.bar, Offcut):
        return ()
    own = int(key.partition(":")[2])
    return (own, request.stock.index(source.cover)) if source.cover else (own,)


def unit_of(line: StockLine, bars: int, total: int) -> int | None:
    """Give the price of a bar when so many of its line, and of the material in all, are ordered."""
    if line.price is None and not any(one.price is not None for one in line.breaks):
        return None
    best: int | None = None if line.price is None else int(line.price)
    for one in line.breaks:
        if (bars if one.scope is BreakScope.LINE else total) < one.bars:
            continue
        price = one.price
        if price is None:
            # Half a ten-thousandth and more counts as one.
            exact = Fraction(int(line.price or 0)) * (10_000 - (one.off or 0)) / 10_000
            price_due = int(exact + Fraction(1, 2))
        else:
            price_due = int(price)
        best = price_due if best is None else min(best, price_due)
    return best


def lowest_price(request: Request, line: StockLine, lot: str, *, priced: bool) -> int | None:
    """Give the least a bar of a line can cost on any terms, those on hand included; None when unknown."""
    shelf = line.on_hand > 0 and may_take_from_shelf(request, line, lot)
    if not priced:
        return 0 if shelf else 1
    everything = 10**9
    lowest = unit_of(line, everything, everything)
    return min(lowest, int(line.hand_value or 0)) if lowest is not None and shelf else lowest


def may_take_from_shelf(request: Request, line: StockLine, lot: str) -> bool:
    """Tell whether bars on hand, whose lot nobody knows, may serve a material."""
    by_room = any(f.name == line.family and f.lot_rule is LotRule.ROOM for f in request.families)
    return not lot and not by_room


def offcut_charge(request: Request, material: Material, offcut: Offcut) -> int:
    """Give what taking an offcut costs: its value, else the request's rule; and the fetching of it."""
    value = offcut.value
    rule = request.buying.offcut_value
    keep = saw_of(request, material.part).keep_length
    if value is not None or rule is None or offcut.length < keep:
        return int(value or 0) + int(request.buying.fetch)
    bars = [
        line
        for line in request.stock
        if (line.family, line.finish, line.part) == (material.family, material.finish, material.part)
    ]
    rates = [Fraction(int(line.price), line.length) for line in bars if line.price is not None]
    if not rates:
        return int(request.buying.fetch)
    longest = max(line.length for line in bars)
    along = min(Fraction(offcut.length - keep, max(longest - keep, 1)), Fraction(1))
    share = (rule.low + (rule.high - rule.low) * along) / 10_000
    return int(min(rates) * offcut.length * share) + int(request.buying.fetch)


def unlawful(plan: Plan, order: OrderLine, line: StockLine) -> Iterator[str]:
    """Give what no supplier and no shelf would do for an order line, in words."""
    if order.bars % line.pack:
        yield f"{order.bars} bars are ordered, they come in packs of {line.pack}"
    if 0 < order.bars < line.minimum:
        yield f"{order.bars} bars are ordered, the least is {line.minimum}"
    if order.spare < 0:
        yield f"{-order.spare} bars too few for need and reserve"
    if order.spare > 0 and line.pack == 1 and line.minimum <= 1 and not line.breaks:
        yield f"{order.spare} bars are ordered that nobody needs"
    if order.on_hand > line.on_hand:
        yield f"{order.on_hand} bars are taken from the shelf, {line.on_hand} are on hand"
    if order.on_hand and not may_take_from_shelf(plan.request, line, order.lot):
        yield "bars on hand are of an unknown lot, the pieces must be of one"
    if order.listed is not None and order.listed != line.price:
        yield "its list price is not the stock line's"
