"""What has to be bought is told apart from what the plan cuts."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.purchase import OrderLine
from nesting.money import Money
from nesting.units import mm

LINE = OrderLine(
    family="TOLV-17N",
    finish="natural",
    part="channel",
    lot="",
    length=mm(2000),
    bars=20,
    price=Money(114_000),
    sum=Money(2_280_000),
    ordered=17,
)


def test_what_is_still_to_order_has_its_own_sum() -> None:
    """Of 20 bars 17 are ordered: 3 x 11.40 = 34.20; nothing where all are, unknown where no price is."""
    assert LINE.more_sum == 342_000
    assert replace(LINE, ordered=20).more_sum == 0
    assert replace(LINE, price=None, sum=None).more_sum is None


def test_needed_is_what_the_plan_cuts() -> None:
    """20 ordered and 4 on hand, of these 1 reserve and 3 to fill the pack: 20 + 4 - 1 - 3 = 20 are cut."""
    assert replace(LINE, ordered=0, on_hand=4, reserve=1, spare=3).needed == 20
