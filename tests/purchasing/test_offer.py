"""One stock line on its own: what can be ordered, at what price, with what from the shelf."""

from __future__ import annotations

from nesting.purchasing.offer import Deal, Offer

LINE = Offer(
    line=0, bucket=0, price=100, pack=5, minimum=12, line_breaks=((20, 80),), total_breaks=((40, 70),)
)


def test_only_whole_packs_above_the_minimum_are_ordered() -> None:
    """Packs of 5 and at least 12 make 15 the smallest order; nothing needed orders nothing."""
    assert [LINE.order_of(n) for n in (0, 1, 15, 16)] == [0, 15, 15, 20]


def test_an_order_beyond_what_can_be_had_is_none() -> None:
    """With at most 18 bars to be had, packs of 5 end at 15."""
    line = Offer(line=0, bucket=0, price=100, pack=5, most=18)
    assert (line.order_of(15), line.order_of(16), line.limit) == (15, None, 15)


def test_the_lowest_price_reached_counts() -> None:
    """Breaks are not added up: 20 bars of the line 80, 40 in all 70."""
    assert [LINE.unit(15, 0), LINE.unit(20, 0), LINE.unit(15, 40), LINE.unit(20, 40)] == [100, 80, 70, 70]


def test_a_break_is_reached_on_purpose_when_that_is_cheaper() -> None:
    """17 bars need 20 by packs, at the break 1600; 12 bars are 15 x 100 = 1500, less than 20 x 80."""
    assert LINE.deal(17, 0) == Deal(1600, 20, 80, 0)
    assert LINE.deal(12, 0) == Deal(1500, 15, 100, 0)


def test_bars_on_hand_spare_a_pack() -> None:
    """17 needed, 2 on hand at 10 each: 15 x 100 + 20 = 1520 is less than 20 x 80 = 1600."""
    line = Offer(line=0, bucket=0, price=100, pack=5, hand=2, hand_cost=10, line_breaks=((20, 80),))
    assert line.deal(17, 0) == Deal(1520, 15, 100, 2)
    assert line.deal(18, 0) == Deal(1600, 20, 80, 0)


def test_the_reserve_is_part_of_the_need() -> None:
    """Three opened and two in reserve are five bars."""
    assert Offer(line=0, bucket=0, price=100, reserve=2).deal(3, 0) == Deal(500, 5, 100, 0)


def test_a_line_without_terms_is_plain() -> None:
    """Only a line on which every bar costs the list price is plain."""
    assert Offer(line=0, bucket=0, price=100, minimum=1).plain
    assert not LINE.plain
    assert not Offer(line=0, bucket=0, price=100, hand=1).plain


def test_a_reserve_that_is_ordered_is_opened_before_more_is_paid() -> None:
    """
    Six bars at 100 were ordered, two of them in reserve; four are kept.

    None more: 4 + 2. One or two more come out of the six; the third one more is the seventh bar.
    """
    line = Offer(line=0, bucket=0, price=100, kept=4, reserve=2, ordered=6)
    assert [line.reserve_at(n) for n in range(4)] == [2, 1, 0, 0]
    assert [deal.bars for n in range(4) if (deal := line.deal(n, 0))] == [6, 6, 6, 7]
    assert not line.plain


def test_fewer_bars_than_ordered_need_the_whole_reserve_and_no_more() -> None:
    """Of six ordered bars three are kept: with the reserve of two that is five, one is left over."""
    assert Offer(line=0, bucket=0, price=100, kept=3, reserve=2, ordered=6).needed(0) == 5


def test_a_reserve_that_is_ordered_limits_nobody() -> None:
    """Of seven bars there are, four are kept: three can be opened, the reserve's among them."""
    line = Offer(line=0, bucket=0, price=100, most=7, kept=4, reserve=2)
    assert (line.limit, Offer(line=0, bucket=0, price=100, most=7, kept=4, reserve=2, ordered=6).limit) == (
        1,
        3,
    )
