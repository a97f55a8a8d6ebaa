"""The price an unlisted length would have."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from nesting.advice.lengths import likely_price, with_unlisted
from nesting.batch.split import split
from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.stock import StockLine
from nesting.money import money_text, read_money
from nesting.planning.group import Group
from nesting.units import mm

MATERIAL = Material("TOLV-17N", "", Part.CHANNEL)


def group(prices: Mapping[float, str]) -> Group:
    stock = tuple(
        StockLine(family="TOLV-17N", length=mm(str(length)), price=read_money(price) if price else None)
        for length, price in prices.items()
    )
    piece = Piece(id="P", job="J", run="R", material=MATERIAL, length=mm(600), exact=mm(600))
    saw = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))
    return split(Request(stock=stock, saw=saw), [piece]).chains[0][0]


@pytest.mark.parametrize(
    ("prices", "length", "price"),
    [
        ({2000: "10.00"}, 3000, "15.00"),  # by length
        ({2000: "11.40", 2500: "14.00"}, 3000, "16.80"),  # 5.60 a metre
        ({2000: "11.40", 2500: "14.00"}, 2250, "12.83"),  # 5.70 a metre, rounded up to a hundredth
        ({2000: "10.00", 3000: "15.00", 6000: "27.00"}, 5000, "25.00"),  # 5.00 a metre rather than 4.50
        ({2000: "10.00", 3000: "15.00", 6000: "24.00"}, 5000, "24.00"),  # 6000 can be had for 24.00
        ({2500: "19.00", 2438.4: "18.20"}, 2000, "14.93"),  # 18.20 x 2000 / 2438.4
        ({2500: "19.00", 2438.4: "18.20"}, 1000, "7.47"),  # not 0.01, where a line through both would end
    ],
)
def test_the_price_is_by_the_metre_like_the_listed_ones_beside_it(
    prices: dict[float, str], length: int, price: str
) -> None:
    """A price that favours the unlisted length would advise to ask for what does not pay."""
    assert money_text(likely_price(group(prices), mm(length))) == price


def test_a_length_that_holds_no_piece_is_not_tried() -> None:
    """600 needs 616 of bar; 610 gives 594."""
    assert with_unlisted(group({2000: "10.00"}), mm(610)) is None
    assert with_unlisted(group({2000: "10.00"}), mm(616)) is not None


def test_without_prices_an_unlisted_bar_counts_one() -> None:
    """Bars are counted then, whatever their length."""
    more = with_unlisted(group({2000: ""}), mm(3000))
    assert more is not None
    assert [bar.cost for bar in more.problem.bars] == [1, 1]


def test_no_price_is_made_up_from_bars_that_cost_nothing() -> None:
    """Free bars of one length say nothing of what another one would cost."""
    assert with_unlisted(group({2000: "0.00"}), mm(3000)) is None
