"""Amounts as whole ten-thousandths."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import MoneyNotUnderstood
from nesting.money import Money, money_text, percent_text, read_money, read_share


@pytest.mark.parametrize(
    ("text", "amount"), [("14.00", 140_000), (" 1025.4 ", 10_254_000), ("0", 0), ("0.0001", 1)]
)
def test_amounts_are_read_exactly(text: str, amount: int) -> None:
    """No float stands between a price and its sum."""
    assert read_money(text) == amount


@pytest.mark.parametrize(
    "text", ["", "ten", "-1", "1,50", "0.00001", "1e30", "1e900000", "1_000", "NaN", "Infinity"]
)
def test_what_is_no_amount_is_refused(text: str) -> None:
    """A price that could be misread is never guessed."""
    with pytest.raises(MoneyNotUnderstood):
        read_money(text)


@given(st.integers(0, 10**15))
def test_printed_amounts_read_back(amount: int) -> None:
    """What a sheet shows is what a reader gets."""
    assert read_money(money_text(Money(amount))) == amount


@pytest.mark.parametrize(("text", "share"), [("10 %", 1000), ("2.5%", 250), (" 10 ", 1000), ("100", 10_000)])
def test_a_share_is_read_in_hundredths_of_a_per_cent(text: str, share: int) -> None:
    """A reserve of 2.5 % is 250 hundredths, and is printed back as it was meant."""
    assert read_share(text) == share
    assert read_share(percent_text(share)) == share


@pytest.mark.parametrize("text", ["", "ten", "101 %", "-1", "0.001", "1e99"])
def test_a_share_outside_0_to_100_or_too_fine_is_refused(text: str) -> None:
    """Nothing is rounded or clipped in silence."""
    with pytest.raises(MoneyNotUnderstood):
        read_share(text)
