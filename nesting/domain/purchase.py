"""What a plan buys: order lines, the next-best purchase, each job's share of the bill."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.money import Money
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """
    The next-best purchase: the cheapest that orders fewer bars of some length than the plan does.

    Parameters
    ----------
    bars
        (length, bars to order) of each length ordered, shortest first.
    cost
        What it costs, in the group's unit.
    proved
        Whether no other such purchase costs less; any further one is the plan's with bars added.
    """

    bars: tuple[tuple[Length, int], ...]
    cost: int
    proved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """
    New bars to order of one stock length, and what the plan takes of it from the bars on hand.

    Parameters
    ----------
    bars
        Bars to order: needed less on hand, plus reserve and spare.
    price, sum
        Price of a bar after breaks, and of all bars ordered; None when no price is known.
    stock
        Index into the request's stock; None in plans that do not say.
    on_hand
        Bars taken from those already paid for.
    reserve
        Bars wanted beyond the need.
    spare
        Bars that fill a pack, or reach a break or a minimum; they go to stock.
    listed
        List price of a bar; None when it is the price paid.
    ordered
        Bars of the line that the plans before this one have ordered; 0 in a first plan.
    reserve_used
        Bars that were ordered as a reserve and that this plan cuts.
    """

    family: str
    finish: str
    part: str
    lot: str
    length: Length
    bars: int
    price: Money | None
    sum: Money | None
    note: str = ""
    stock: int | None = None
    on_hand: int = 0
    reserve: int = 0
    spare: int = 0
    listed: Money | None = None
    ordered: int = 0
    reserve_used: int = 0

    @property
    def needed(self) -> int:
        """Bars that the plan cuts."""
        return self.bars + self.on_hand - self.reserve - self.spare

    @property
    def more(self) -> int:
        """Bars still to order where the plans before are ordered already."""
        return max(self.bars - self.ordered, 0)

    @property
    def more_sum(self) -> Money | None:
        """What the bars still to order cost; None when no price is known."""
        return None if self.price is None else Money(self.more * self.price)

    @property
    def left_over(self) -> int:
        """Bars that the plans before have ordered and this one has no use for."""
        return max(self.ordered - self.bars, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class JobShare:
    """
    What one job takes from the plan: every bar is shared by the length its pieces consume.

    Parameters
    ----------
    pieces, good
        Number and total length of its pieces.
    consumed
        Its share of the metal used up (used - returned), nanometres.
    cost
        Its share of the money; shares of one plan add up exactly.
    """

    job: str
    pieces: int
    good: int
    consumed: int
    cost: Money
