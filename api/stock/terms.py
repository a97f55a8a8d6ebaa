"""How the bars of a shelf are sold, between its row and the stock line that a plan is made on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from api.store.models import ShelfRow
from nesting.domain.buying import BreakScope, PriceBreak
from nesting.domain.material import Part
from nesting.domain.stock import StockLine
from nesting.money import Money
from nesting.units import Length


def stock_line(row: ShelfRow, on_hand: int | None = None) -> StockLine:
    """
    Give a shelf as a plan sees it: its free bars are paid for, more can be bought as it says.

    Parameters
    ----------
    on_hand
        Bars to be told instead of the free ones.
    """
    hand = row.free if on_hand is None else on_hand
    count = hand + (row.supply or 0) if row.orderable else hand
    return StockLine(
        family=row.family,
        finish=row.finish,
        part=Part(row.part),
        length=Length(row.length),
        price=_money(row.price),
        count=None if row.orderable and row.supply is None else count,
        pack=row.pack,
        minimum=row.minimum,
        breaks=breaks_of(row.breaks),
        on_hand=hand,
        hand_value=_money(row.hand_value),
        supplier=row.supplier,
        lead_days=row.lead_days,
    )


def keep_terms(row: ShelfRow, line: StockLine) -> None:
    """Write into a shelf's row how its bars are sold; the bars that stand there are not touched."""
    row.price = line.price
    row.pack, row.minimum, row.breaks = line.pack, line.minimum, breaks_as_json(line.breaks)
    row.hand_value, row.supplier, row.lead_days = line.hand_value, line.supplier, line.lead_days
    limited = line.count is not None
    row.supply = line.count - line.on_hand if line.count is not None and line.on_hand else None
    row.orderable = not limited or bool(row.supply)


def breaks_of(kept: Sequence[dict[str, Any]]) -> tuple[PriceBreak, ...]:
    """Give price breaks of JSON values."""
    return tuple(
        PriceBreak(
            bars=one["bars"], price=_money(one["price"]), off=one["off"], scope=BreakScope(one["scope"])
        )
        for one in kept
    )


def breaks_as_json(breaks: Sequence[PriceBreak]) -> list[dict[str, Any]]:
    """Give price breaks as JSON values, money in ten-thousandths, shares in hundredths of a per cent."""
    return [
        {"bars": one.bars, "price": one.price, "off": one.off, "scope": one.scope.value} for one in breaks
    ]


def _money(amount: int | None) -> Money | None:
    return None if amount is None else Money(amount)
