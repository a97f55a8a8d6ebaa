"""The problem behind a checkable bound on money: nothing in it may cost more than it ever can."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.split import split
from nesting.planning.lowest_prices import at_lowest_prices
from nesting.takeoff.take_off import take_off
from tests.batch.shop import order


def test_bars_on_hand_stand_apart_from_those_that_are_bought() -> None:
    """Twelve are free, all others cost their price; were all free, nothing would be proved."""
    asked = order({1460: 30, 659: 49}, bars={2000: "11.40", 2500: "14.00"})
    asked = replace(asked, stock=(replace(asked.stock[0], on_hand=12), asked.stock[1]))
    ((group,),) = split(asked, take_off(asked).pieces).chains
    costs = [(bar.cost, bar.count) for bar in at_lowest_prices(group).bars]
    assert costs == [(114_000, None), (140_000, None), (0, 12)]
