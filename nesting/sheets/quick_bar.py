"""A bar said in one line, outside any sheet: ``6000 mm=18.60``."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.money import Money
from nesting.sheets.read_price import read_price
from nesting.units import Length, Unit, read_length


@dataclass(frozen=True, slots=True)
class QuickBar:
    """A length on offer, its price (None when unknown), and the currencies named with it."""

    length: Length
    price: Money | None
    currencies: tuple[str, ...]


def read_quick_bar(text: str, unit: Unit | None) -> QuickBar:
    """
    Read a length, and a price behind an equals sign.

    Parameters
    ----------
    unit
        Unit of a bare number.

    Raises
    ------
    LengthNotUnderstood
        When what stands before the equals sign is no length.
    MoneyNotUnderstood
        When what stands behind it is no price.
    """
    length, _, said = text.partition("=")
    price = read_price(said) if said.strip() else None
    measured = read_length(length, unit).length
    return QuickBar(measured, price.amount if price else None, price.currencies if price else ())
