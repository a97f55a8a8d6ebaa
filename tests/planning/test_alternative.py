"""The purchase one would make without a planner, to weigh against the plan's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from nesting.batch.split import split
from nesting.domain.buying import BreakScope, PriceBreak, Spares
from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.progress import Progress, StopReason
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.stock import StockLine
from nesting.money import read_money
from nesting.planning.alternative import next_best, restricted
from nesting.planning.group import Group
from nesting.planning.settle import settle
from nesting.units import mm
from tests.purchasing.oracle import purchases

MATERIAL = Material("BRASK-20F", "", Part.CHANNEL)
STOCK = (
    StockLine(family="BRASK-20F", length=mm(2000), price=read_money("12.80")),
    StockLine(family="BRASK-20F", length=mm(3000), price=read_money("18.60")),
)
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))
# The demo's BRASK-20F.
PIECES = {1176: 12, 976: 38, 776: 22, 416: 48}


def group(stock: tuple[StockLine, ...] = STOCK, counts: Mapping[int, int] = PIECES) -> Group:
    pieces = [
        Piece(id=f"{n}.{i}", job="J", run=str(n), material=MATERIAL, length=mm(n), exact=mm(n))
        for n, count in counts.items()
        for i in range(count)
    ]
    return split(Request(stock=stock, saw=SAW), pieces).chains[0][0]


def test_the_next_best_may_be_another_mix_of_the_same_lengths() -> None:
    """2 x 2000 + 29 x 3000 cost 565.00; 5 x 2000 + 27 x 3000 cost 1.20 more, 31 x 3000 alone 11.60 more."""
    other = next_best(settle(group()))
    assert other is not None
    assert (other.bars, other.cost, other.proved) == (
        ((mm(2000), 5), (mm(3000), 27)),
        read_money("566.20"),
        True,
    )


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ({}, {}),
        ({"pack": 2}, {}),
        ({"minimum": 2}, {"on_hand": 1}),
        ({"breaks": (PriceBreak(bars=2, off=2000),)}, {"pack": 2}),
        ({}, {"count": 2}),
        ({"breaks": (PriceBreak(bars=3, off=2500, scope=BreakScope.TOTAL),)}, {"minimum": 1}),
    ],
)
@pytest.mark.parametrize("pieces", [{1176: 1, 976: 2, 776: 1, 416: 2}, {1450: 2, 976: 2, 416: 1}])
def test_no_other_purchase_is_cheaper(
    first: dict[str, Any], second: dict[str, Any], pieces: dict[int, int]
) -> None:
    """Every filling and every order is tried: none that is not the plan's with bars added costs less."""
    asked = group((replace(STOCK[0], **first), replace(STOCK[1], **second)), pieces)
    settled = settle(asked)
    bought = tuple(deal.bars for deal in settled.bill.deals)
    other = next_best(settled)
    costs = [
        cost
        for ordered, cost in purchases(asked.problem, asked.market, most=8)
        if any(n < b for n, b in zip(ordered, bought, strict=True))
    ]
    found = None if other is None else (other.cost, other.proved)
    assert found == ((min(costs), True) if costs else None)


def test_one_that_costs_the_same_is_told_too() -> None:
    """Two bars of 2000 at 9.30 hold what one of 3000 at 18.60 holds: a buyer may take what is in the shop."""
    even = (replace(STOCK[0], price=read_money("9.30")), STOCK[1])
    settled = settle(group(even, {976: 2, 776: 1}))
    other = next_best(settled)
    assert other is not None
    assert (other.cost, other.proved) == (settled.result.cost, True)


def test_a_purchase_without_the_reserve_is_no_alternative() -> None:
    """One bar of 2000 alone is left when none of 3000 is ordered: it cannot hold two bars in reserve."""
    few = (replace(STOCK[0], count=1), STOCK[1])
    asked = replace(group(few, {976: 2, 776: 2}), spares=Spares(bars=2))
    settled = settle(asked)
    other = next_best(settled)
    assert other is not None
    assert sum(count for _, count in other.bars) >= 3
    assert other.cost >= settled.result.cost


def test_a_search_that_is_stopped_proves_nothing() -> None:
    """What was found in the time is told, but not as the next best that there is."""
    settled = settle(group())
    asked = 0

    def impatient(now: Progress) -> StopReason | None:
        nonlocal asked
        asked += 1
        return StopReason.TIME if now.phase in ("round", "close") else None

    other = next_best(settled, stop=impatient)
    assert asked
    assert other is None or not other.proved


def test_one_length_has_no_alternative() -> None:
    """There is nothing else to buy."""
    assert next_best(settle(group(STOCK[1:]))) is None


def test_a_length_that_cannot_hold_the_longest_piece_is_no_choice() -> None:
    """Bars of 1000 give no 1176."""
    short = replace(STOCK[0], length=mm(1000))
    assert restricted(group((short, STOCK[1])), [mm(1000)]) is None
    assert restricted(group((short, STOCK[1])), [mm(3000)]) is not None
