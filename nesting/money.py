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


def read_share(text: str) -> int:
    """
    Read a share such as ``10 %``, ``2.5%`` or ``10`` per cent, in hundredths of a per cent.

    Raises
    ------
    MoneyNotUnderstood
        When the text is no share from 0 to 100 per cent, or is finer than a hundredth.
    """
    expected = "a share from 0 to 100 per cent with at most two decimals, such as 10 %"
    try:
        scaled = Decimal(text.strip().removesuffix("%").strip()) * 100
        exact = int(scaled)
    except (InvalidOperation, ValueError, OverflowError) as why:
        raise MoneyNotUnderstood(text, expected) from why
    if scaled != exact or not 0 <= exact <= PER_UNIT:
        raise MoneyNotUnderstood(text, expected)
    return exact


def percent_text(share: int) -> str:
    """Print a share in hundredths of a per cent: ``10 %``, ``2.5 %``."""
    return f"{(Decimal(share) / 100).normalize():f} %"


def money_text(amount: Money | int) -> str:
    """Print an amount with two decimals, or with four where two would hide something."""
    places = 2 if amount % 100 == 0 else 4
    return f"{Decimal(amount) / PER_UNIT:.{places}f}"
