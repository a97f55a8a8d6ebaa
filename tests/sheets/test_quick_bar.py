"""A bar said in one line, for the command line and for the pages alike."""

import pytest

from nesting.errors import LengthNotUnderstood, MoneyNotUnderstood
from nesting.money import Money
from nesting.sheets.quick_bar import QuickBar, read_quick_bar
from nesting.units import Unit, mm


def test_length_and_price_are_parted_at_the_equals_sign() -> None:
    """18.60 is 186 000 ten-thousandths; without a price the bar counts as one."""
    assert read_quick_bar("6000 mm=18.60", None) == QuickBar(mm(6000), Money(186_000), ())
    assert read_quick_bar("6000 = 18,60 EUR", Unit.MM) == QuickBar(mm(6000), Money(186_000), ("EUR",))
    assert read_quick_bar("6 m", None) == QuickBar(mm(6000), None, ())


def test_what_is_not_understood_says_which_half() -> None:
    """A bare number and a price in words are two different mistakes."""
    with pytest.raises(LengthNotUnderstood):
        read_quick_bar("6000=18.60", None)
    with pytest.raises(MoneyNotUnderstood):
        read_quick_bar("6000 mm=cheap", None)
