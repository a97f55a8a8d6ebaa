"""Several lines together: totals that reach a break, covers that go with the channel."""

from __future__ import annotations

from nesting.purchasing.market import Market
from nesting.purchasing.offer import Offer

SHORT = Offer(line=0, bucket=0, price=100, total_breaks=((10, 80),))
LONG = Offer(line=1, bucket=0, price=130, total_breaks=((10, 104),))


def test_a_total_counts_all_lines_of_its_bucket() -> None:
    """4 + 6 bars reach the break on 10: 4 x 80 + 6 x 104 = 944."""
    bill = Market((SHORT, LONG), ((0,), (1,))).bill((4, 6))
    assert bill is not None
    assert (bill.cost, [deal.bars for deal in bill.deals]) == (944, [4, 6])


def test_one_more_of_the_cheaper_line_reaches_a_total() -> None:
    """3 + 6 at list are 1080; a fourth short bar makes all cheaper: 4 x 80 + 6 x 104 = 944."""
    bill = Market((SHORT, LONG), ((0,), (1,))).bill((3, 6))
    assert bill is not None
    assert (bill.cost, [deal.bars for deal in bill.deals]) == (944, [4, 6])


def test_a_total_too_far_away_is_left() -> None:
    """1 + 1 at list are 230; ten bars at the break would be 8 x 80 ... more."""
    bill = Market((SHORT, LONG), ((0,), (1,))).bill((1, 1))
    assert bill is not None
    assert (bill.cost, [deal.bars for deal in bill.deals]) == (230, [1, 1])


def test_a_cover_goes_with_every_bar() -> None:
    """Two kinds of bar share one cover line: 2 + 3 channels take 5 covers, 6 in packs of 3."""
    cover = Offer(line=2, bucket=1, price=10, pack=3)
    bill = Market((SHORT, LONG, cover), ((0, 2), (1, 2))).bill((2, 3))
    assert bill is not None
    assert [deal.bars for deal in bill.deals] == [2, 3, 6]


def test_more_bars_than_there_are_have_no_bill() -> None:
    """A line of which three can be had bills no fourth bar, and says so beforehand."""
    market = Market((Offer(line=0, bucket=0, price=100, most=3),), ((0,),))
    assert market.bill((4,)) is None
    assert market.limit(0) == 3


def test_every_bill_is_a_multiple_of_the_grid() -> None:
    """The greatest common divisor of 100, 80, 130 and 104 is 2."""
    assert Market((SHORT, LONG), ((0,), (1,))).grid == 2
