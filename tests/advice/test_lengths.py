"""The price an unlisted length would have."""

from __future__ import annotations

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


def group(prices: dict[int, str]) -> Group:
    stock = tuple(
        StockLine(family="TOLV-17N", length=mm(length), price=read_money(price) if price else None)
        for length, price in prices.items()
    )
    piece = Piece(id="P", job="J", run="R", material=MATERIAL, length=mm(600), exact=mm(600))
    saw = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))
    return split(Request(stock=stock, saw=saw), [piece]).chains[0][0]


@pytest.mark.parametrize(
    ("prices", "length", "price"),
    [
        ({2000: "10.00"}, 3000, "15.00"),  # by length
        ({2000: "11.40", 2500: "14.00"}, 3000, "16.60"),  # 5.20 a metre
        ({2000: "11.40", 2500: "14.00"}, 2250, "12.70"),
        ({2000: "10.00", 3000: "15.00", 6000: "24.00"}, 5000, "21.00"),  # between 3000 and 6000: 3 a metre
        ({2000: "10.00", 3000: "10.01"}, 2999, "10.01"),  # rounded up to a hundredth
    ],
)
def test_the_price_is_in_line_with_the_nearest_listed_ones(
    prices: dict[int, str], length: int, price: str
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
