"""Bars ordered only to reach a total."""

from __future__ import annotations

from nesting.purchasing.fill import fill_up
from nesting.purchasing.offer import Offer


def test_packs_of_different_sizes_meet_a_total_together() -> None:
    """20 bars from packs of 6 (60 a bar) and of 8 (59): 12 + 8 are 1192, 24 of one alone 1416 or more."""
    sixes = Offer(line=0, bucket=0, price=60, pack=6)
    eights = Offer(line=1, bucket=0, price=59, pack=8)
    deals = fill_up([(sixes, 1), (eights, 1)], 20)
    assert deals is not None
    assert ([deal.bars for deal in deals], sum(deal.cost for deal in deals)) == ([12, 8], 1192)


def test_what_cannot_be_reached_is_none() -> None:
    """Five bars to be had never make a total of six."""
    assert fill_up([(Offer(line=0, bucket=0, price=60, most=5), 1)], 6) is None


def test_bars_on_hand_do_not_count_towards_a_total() -> None:
    """Two needed and two on hand: a total of three still orders three."""
    deals = fill_up([(Offer(line=0, bucket=0, price=60, hand=2), 2)], 3)
    assert deals is not None
    assert [(deal.bars, deal.hand) for deal in deals] == [(3, 0)]
