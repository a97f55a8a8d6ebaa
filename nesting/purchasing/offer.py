"""One stock length as the buyer meets it: packs, minimum, breaks, bars on hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Deal:
    """
    What a number of bars of one line takes.

    Parameters
    ----------
    cost
        Paid for the bars ordered and charged for those on hand.
    bars, unit
        Bars ordered, and the price of each.
    hand
        Bars taken from those on hand.
    """

    cost: int
    bars: int
    unit: int
    hand: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """
    One stock line, priced in whole ten-thousandths, or in bars when there are no prices.

    Parameters
    ----------
    line
        Index into the request's stock.
    bucket
        Offers of one bucket count together towards breaks on the total.
    price
        List price of a bar.
    pack, minimum
        Bars sold together; fewest that can be ordered.
    most
        Most bars that can be ordered; None when unlimited.
    hand, hand_cost
        Bars on hand and what taking one costs.
    reserve
        Bars wanted beyond those the plan opens.
    kept
        Bars opened before, which stay on the bill.
    ordered
        Bars an earlier order has brought, those it took from the shelf included: what they leave beyond
        the bars opened is the reserve then, and a plan may open it; 0 where nothing is ordered yet.
    line_breaks, total_breaks
        (bars from, price of a bar) by this line's bars, and by the bucket's.
    """

    line: int
    bucket: int
    price: int
    pack: int = 1
    minimum: int = 0
    most: int | None = None
    hand: int = 0
    hand_cost: int = 0
    reserve: int = 0
    kept: int = 0
    ordered: int = 0
    line_breaks: tuple[tuple[int, int], ...] = ()
    total_breaks: tuple[tuple[int, int], ...] = ()

    @property
    def plain(self) -> bool:
        """Whether bars cost the list price, however many."""
        special = self.line_breaks or self.total_breaks or self.hand or self.reserve or self.kept
        return self.pack == 1 and self.minimum <= 1 and not special

    @property
    def limit(self) -> int | None:
        """Most bars a plan can open, those on hand included; None when unlimited."""
        if self.most is None:
            return None
        whole = self.most // self.pack * self.pack
        return max(self.hand + (whole if whole >= self.minimum else 0) - self.held, 0)

    @property
    def held(self) -> int:
        """Bars paid for that no plan may open: those kept, and the reserve unless it is ordered already."""
        return self.kept + (0 if self.ordered else self.reserve)

    @property
    def lowest(self) -> int:
        """Least that a bar can cost on any terms, a bar on hand included."""
        return min([*self.units(), *([self.hand_cost] if self.hand else [])])

    @property
    def reach(self) -> int | None:
        """Bars there are at all, ordered in whole packs or not; None when unlimited."""
        return None if self.most is None else self.most + self.hand

    def reserve_at(self, opened: int) -> int:
        """Give the reserve beside so many opened bars: all that is wanted, or what they leave of it."""
        if not self.ordered:
            return self.reserve
        return min(self.reserve, max(self.ordered - self.kept - opened, 0))

    def needed(self, opened: int) -> int:
        """Give the bars to pay for when so many are opened: those kept and the reserve besides."""
        return self.kept + opened + self.reserve_at(opened)

    def units(self) -> Iterator[int]:
        """Give every price a bar may come to."""
        yield self.price
        for _, price in (*self.line_breaks, *self.total_breaks):
            yield price

    def unit(self, bars: int, total: int) -> int:
        """Give the price of a bar when so many of the line, and of its bucket, are ordered."""
        reached = [price for least, price in self.line_breaks if bars >= least]
        reached += [price for least, price in self.total_breaks if total >= least]
        return min([self.price, *reached])

    def order_of(self, bars: int) -> int | None:
        """Give the smallest number that can be ordered and is at least ``bars``; None when none is."""
        if bars <= 0:
            return 0
        wanted = max(bars, self.minimum)
        packed = -(-wanted // self.pack) * self.pack
        return None if self.most is not None and packed > self.most else packed

    def deals(self, opened: int, total: int, *, reward: int = 0) -> Iterator[Deal]:
        """
        Give the deals among which the cheapest is, for ``opened`` bars and the reserve.

        Between two breaks the cost is a straight line in the bars ordered, so that the cheapest deal
        orders as few as the bars on hand allow, as many as are needed, or just reaches a break.

        Parameters
        ----------
        total
            Bars the bucket orders at least.
        reward
            Taken off the cost for every bar ordered.
        """
        needed = self.needed(opened)
        least = max(needed - self.hand, 0)
        for wanted in sorted({least, needed, *(bars for bars, _ in self.line_breaks if bars > least)}):
            bars = self.order_of(wanted)
            if bars is not None:
                hand = max(needed - bars, 0)
                unit = self.unit(bars, total)
                yield Deal(bars * (unit - reward) + hand * self.hand_cost, bars, unit, hand)

    def deal(self, opened: int, total: int, *, reward: int = 0) -> Deal | None:
        """Give the cheapest deal, of equals the one with fewer bars; None when there are too few bars."""
        return min(self.deals(opened, total, reward=reward), default=None)
