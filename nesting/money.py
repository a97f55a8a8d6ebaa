"""Money as whole ten-thousandths of a currency unit, so that sums are exact."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import NewType

from nesting.errors import MoneyNotUnderstood

Money = NewType("Money", int)

PER_UNIT = 10_000
NO_MONEY = Money(0)
_EXPECTED = "a number with at most four decimals and a decimal point, such as 14.00"


def read_money(text: str) -> Money:
    """
    Read an amount such as ``14.00`` or ``1025.4``.

    Raises
    ------
    MoneyNotUnderstood
        When the text is no plain number, is negative or is finer than a ten-thousandth.
    """
    try:
        scaled = Decimal(text.strip()) * PER_UNIT
        exact = int(scaled)
    except (InvalidOperation, ValueError, OverflowError) as why:
        raise MoneyNotUnderstood(text, _EXPECTED) from why
    if scaled != exact or exact < 0 or exact > 10**15:
        raise MoneyNotUnderstood(text, _EXPECTED)
    return Money(exact)


def money_text(amount: Money | int) -> str:
    """Print an amount with two decimals, or with four where two would hide something."""
    places = 2 if amount % 100 == 0 else 4
    return f"{Decimal(amount) / PER_UNIT:.{places}f}"
