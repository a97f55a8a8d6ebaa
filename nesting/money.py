"""Money as whole ten-thousandths of a currency unit, so that sums are exact."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NewType

from nesting.errors import MoneyNotUnderstood

Money = NewType("Money", int)

PER_UNIT = 10_000
NO_MONEY = Money(0)
# Plain digits only: 1e900000 as a whole number would take most of a minute.
_NUMBER = re.compile(r"(?:[0-9]{1,15}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})")
_EXPECTED = "a number with at most four decimals and a decimal point, such as 14.00"


def read_money(text: str) -> Money:
    """
    Read an amount such as ``14.00`` or ``1025.4``.

    Raises
    ------
    MoneyNotUnderstood
        When the text is no plain number, is negative or is finer than a ten-thousandth.
    """
    exact = _whole(text.strip(), PER_UNIT)
    if exact is None or exact > 10**15:
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
    exact = _whole(text.strip().removesuffix("%").strip(), 100)
    if exact is None or exact > PER_UNIT:
        raise MoneyNotUnderstood(text, expected)
    return exact


def _whole(text: str, parts: int) -> int | None:
    """Give a number in whole parts of a unit; None when it is no plain number or finer."""
    if not _NUMBER.fullmatch(text):
        return None
    scaled = Decimal(text) * parts
    exact = int(scaled)
    return exact if scaled == exact else None


def percent_text(share: int) -> str:
    """Print a share in hundredths of a per cent: ``10 %``, ``2.5 %``."""
    return f"{(Decimal(share) / 100).normalize():f} %"


def money_text(amount: Money | int) -> str:
    """Print an amount with two decimals, or with four where two would hide something."""
    places = 2 if amount % 100 == 0 else 4
    return f"{Decimal(amount) / PER_UNIT:.{places}f}"
