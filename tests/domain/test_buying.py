"""Prices after breaks, what offcuts count for, how large a reserve is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.buying import BuyingRules, OffcutValue, PriceBreak, Spares, offcut_worth, share_off
from nesting.errors import ProblemError
from nesting.money import Money, read_money
from nesting.units import mm

RULE = OffcutValue()
BARS = ((read_money("11.40"), mm(2000)), (read_money("14.00"), mm(2500)))


@pytest.mark.parametrize(
    ("price", "off", "after"),
    [("11.40", 1000, "10.26"), ("14.00", 1000, "12.60"), ("0.0005", 5000, "0.0003")],  # 0.00025 rounds up
)
def test_a_share_off_is_rounded_once_to_a_ten_thousandth(price: str, off: int, after: str) -> None:
    """10 % off 11.40 is 10.26; what does not come out is rounded half up, bar by bar."""
    assert share_off(read_money(price), off) == read_money(after)


def worth(length: int) -> Money:
    return offcut_worth(mm(length), keep=mm(400), longest=mm(2500), prices=BARS, rule=RULE)


def test_an_offcut_is_worth_nothing_below_the_keep_length_and_never_a_full_bar() -> None:
    """5.60 a metre is the cheaper bar; half of it at 400 mm is 1.12, nine tenths at 2500 mm 12.60."""
    assert [worth(n) for n in (399, 400, 2500)] == [0, read_money("1.12"), read_money("12.60")]


@given(st.integers(0, 4000), st.integers(0, 4000))
def test_a_longer_offcut_is_worth_no_less(a: int, b: int) -> None:
    """Otherwise long ones would be cut up to reach short jobs."""
    assert worth(min(a, b) + 1) <= worth(max(a, b) + 1)


def test_a_reserve_is_rounded_up_and_needs_a_need() -> None:
    """3 % of 79 bars is 2.37, so three; at least one where anything is needed, none where nothing is."""
    assert [Spares(share=300).reserve(79), Spares(bars=1).reserve(79), Spares(bars=1).reserve(0)] == [3, 1, 0]


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: PriceBreak(bars=10),
        lambda: PriceBreak(bars=10, off=100, price=Money(1)),
        lambda: PriceBreak(bars=0, off=100),
        lambda: PriceBreak(bars=1, off=0),
        lambda: PriceBreak(bars=1, price=Money(-1)),
        lambda: OffcutValue(high=10_000),
        lambda: OffcutValue(low=9_500),
        lambda: Spares(bars=-1),
        lambda: BuyingRules(fetch=Money(-1)),
        lambda: BuyingRules(needed_by="soon"),
    ],
)
def test_what_cannot_be_is_refused(wrong: object) -> None:
    """No break without a price or with two, no offcut at the full price, no date that is none."""
    assert callable(wrong)
    with pytest.raises(ProblemError):
        wrong()
