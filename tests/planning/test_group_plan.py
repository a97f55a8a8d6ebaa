"""A material's bars with what follows from them."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.split import split
from nesting.domain.buying import Spares
from nesting.domain.progress import StopReason
from nesting.planning.group_plan import group_plan
from nesting.takeoff.take_off import take_off
from nesting.units import mm
from tests.batch.shop import order, planned


def test_account_margins_and_spares_follow_from_the_bars() -> None:
    """1200 + 600 on a bar of 2000: 8 + 1800 + 6 + 186 = 2000; the tail gives no second 600."""
    request = order({1200: 1, 600: 1}, bars={2000: "11.40"})
    (first,) = planned(request).groups
    (chain,) = split(request, take_off(request).pieces).chains
    group = replace(chain[0], spares=Spares(from_tails=True))
    made = group_plan(group, first.bars, cost=5, bound=4, ended=StopReason.TIME)
    assert (made.cost, made.bound, made.proved, made.open_units) == (5, 4, False, None)
    assert made.totals == first.totals
    assert (made.totals.good, made.totals.kerf, made.totals.trim) == (mm(1800), mm(6), mm(8))
    assert made.margins == first.margins
    assert made.spares == ()
