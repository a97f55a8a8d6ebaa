"""Amounts as whole ten-thousandths."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import MoneyNotUnderstood
from nesting.money import Money, money_text, read_money


@pytest.mark.parametrize(
    ("text", "amount"), [("14.00", 140_000), (" 1025.4 ", 10_254_000), ("0", 0), ("0.0001", 1)]
)
def test_amounts_are_read_exactly(text: str, amount: int) -> None:
    """No float stands between a price and its sum."""
    assert read_money(text) == amount


@pytest.mark.parametrize("text", ["", "ten", "-1", "1,50", "0.00001", "1e30", "NaN", "Infinity"])
def test_what_is_no_amount_is_refused(text: str) -> None:
    """A price that could be misread is never guessed."""
    with pytest.raises(MoneyNotUnderstood):
        read_money(text)


@given(st.integers(0, 10**15))
def test_printed_amounts_read_back(amount: int) -> None:
    """What a sheet shows is what a reader gets."""
    assert read_money(money_text(Money(amount))) == amount
