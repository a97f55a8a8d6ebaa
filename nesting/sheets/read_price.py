"""Prices as people type them: with a decimal comma, thousands parted, a currency before or behind."""

from __future__ import annotations

import re
from dataclasses import dataclass

from nesting.errors import MoneyNotUnderstood
from nesting.money import Money, money_text, read_money
from nesting.sheets.columns_currency import currencies_in, without_currency

EXPECTED = "a number such as 14.00, 18,60 or 1,250.00, with or without a currency such as EUR"
_BARE = re.compile(r"[0-9]+(?:\.[0-9]*)?|\.[0-9]+")
_COMMA = re.compile(r"[0-9]+,(?:[0-9]{1,2}|[0-9]{4})")
_GROUPED = re.compile(
    r"[1-9][0-9]{0,2}(?P<group>[,.' ])[0-9]{3}(?:(?P=group)[0-9]{3})*(?P<rest>[.,][0-9]{1,4})?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """An amount, and the currency named with it: several codes for a shared sign, none when it has none."""

    amount: Money
    currencies: tuple[str, ...] = ()


class PriceAmbiguous(MoneyNotUnderstood):
    """A price whose comma or point may part thousands or decimals."""


def read_price(text: str) -> Price:
    """
    Read a price such as ``14.00``, ``18,60 EUR``, ``$24.00`` or ``1.250,00``.

    Raises
    ------
    MoneyNotUnderstood
        When it is no amount; as `PriceAmbiguous` when a comma stands before exactly three digits, or a
        point before three that end in 0, which may part thousands as well as decimals.
    """
    number = " ".join(without_currency(text).split()).strip("-, ").replace("\u2019", "'")
    if text.strip().startswith("-"):
        raise MoneyNotUnderstood(text, EXPECTED)
    try:
        return Price(amount=read_money(_plain(number, text)), currencies=currencies_in(text))
    except PriceAmbiguous:
        raise
    except MoneyNotUnderstood as why:
        raise MoneyNotUnderstood(text, EXPECTED) from why


def _plain(number: str, text: str) -> str:
    """Give the digits with a decimal point, thousands joined."""
    if match := _GROUPED.fullmatch(number):
        group, rest = match["group"], match["rest"] or ""
        one_mark = not rest and number.count(group) == 1
        if one_mark and (group == "," or (group == "." and number.endswith("0"))):
            readings = (number.replace(group, ""), number.replace(group, "."))
            said = " or ".join(money_text(read_money(reading)) for reading in readings)
            raise PriceAmbiguous(text, f"{said}; write it with two decimals")
        if rest[:1] != group and not (one_mark and group == "."):
            whole = number.removesuffix(rest).replace(group, "")
            return f"{whole}.{rest[1:]}" if rest else whole
    if _COMMA.fullmatch(number):
        return number.replace(",", ".")
    if _BARE.fullmatch(number):
        return number
    raise MoneyNotUnderstood(text, EXPECTED)
