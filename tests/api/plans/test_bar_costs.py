"""Bars are charged with what is paid for them."""

from __future__ import annotations

from api.plans.bar_costs import bar_costs
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.buying import PriceBreak
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine
from nesting.domain.stock import Offcut, StockLine
from nesting.money import Money
from nesting.units import mm
from tests.api.service import FAMILY, FINISH, SAW


def planned(pieces: int, offcuts: tuple[Offcut, ...] = (), **terms: object) -> Plan:
    """Plan so many pieces of 2000 mm, one a bar of 2500 mm at 10.00."""
    line = StockLine(family=FAMILY, finish=FINISH, length=mm(2500), price=Money(100_000), **terms)  # type: ignore[arg-type]
    wanted = PieceLine(job="OY", id="L", family=FAMILY, finish=FINISH, quantity=pieces, length=mm(2000))
    request = Request(piece_lines=(wanted,), stock=(line,), offcuts=offcuts, saw=SAW, currency="XTS")
    return plan_request(request, Limits(seconds=10, processes=1))


def test_a_pack_is_paid_by_the_bars_that_are_cut() -> None:
    """Three bars in packs of four: 40.00 over three bars, the odd ten-thousandth with the first."""
    costs = bar_costs(planned(3, pack=4))
    assert costs == {1: 133_334, 2: 133_333, 3: 133_333}


def test_a_break_counts_and_bars_on_hand_cost_their_own_value() -> None:
    """Two of five on hand at 3.00, three bought at 8.00 from three on: 6.00 + 24.00 in all."""
    breaks = (PriceBreak(bars=3, price=Money(80_000)),)
    plan = planned(5, on_hand=2, hand_value=Money(30_000), breaks=breaks)
    assert sum(bar_costs(plan).values()) == 300_000 == sum(group.cost for group in plan.groups)


def test_an_offcut_costs_its_value() -> None:
    """The job that takes it pays for it, and no bar."""
    offcut = Offcut(tag="FL-1", family=FAMILY, finish=FINISH, length=mm(2300), value=Money(20_000))
    assert sorted(bar_costs(planned(2, offcuts=(offcut,))).values()) == [20_000, 100_000]


def test_without_prices_nothing_is_charged() -> None:
    """Bars are counted there, and a count is no money."""
    wanted = PieceLine(job="OY", id="L", family=FAMILY, finish=FINISH, length=mm(2000))
    stock = (StockLine(family=FAMILY, finish=FINISH, length=mm(2500)),)
    request = Request(piece_lines=(wanted,), stock=stock, saw=SAW)
    assert bar_costs(plan_request(request, Limits(seconds=10, processes=1))) == {}
