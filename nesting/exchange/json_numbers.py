"""Numbers, money, shares and large whole numbers in JSON, so that no reader rounds them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, TypeVar

from pydantic import BeforeValidator, Field, StrictInt
from pydantic_core import core_schema

from nesting.errors import MoneyNotUnderstood
from nesting.exchange.json_values import JsonValue, TextOrNumber, is_number, rational_of, refusal, words_of
from nesting.money import Money, money_text, percent_text, read_money, read_share

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class JsonRational(TextOrNumber):
    """A plain number, exactly: ``9.6``, ``"9.6"``, ``"65e-6"`` or ``"48/5"``."""

    def write(self, value: Fraction) -> object:
        """Give the number as a text."""
        return str(value)

    def understood(self, value: object, info: core_schema.ValidationInfo) -> Fraction:
        """Read a number or a quotient."""
        number = rational_of(value)
        if number is None:
            raise refusal("not-a-number", "A number is expected, such as 9.6, '65e-6' or '48/5'.")
        return number


@dataclass(frozen=True, slots=True)
class JsonMoney(TextOrNumber):
    """An amount, at most four decimals."""

    def write(self, value: Money) -> object:
        """Give the amount as a text."""
        return money_text(value)

    def understood(self, value: object, info: core_schema.ValidationInfo) -> Money:
        """Read an amount."""
        expected = "An amount is a number or a text such as '14.00'."
        return _by_words(value, read_money, "not-an-amount", expected)


@dataclass(frozen=True, slots=True)
class JsonShare(TextOrNumber):
    """A share in per cent, at most two decimals; in hundredths of a per cent once read."""

    def write(self, value: int) -> object:
        """Give the share as a text with its sign."""
        return percent_text(value)

    def understood(self, value: object, info: core_schema.ValidationInfo) -> int:
        """Read a share, with or without its sign."""
        expected = "A share is a number of per cent or a text such as '10 %'."
        return _by_words(value, read_share, "not-a-share", expected)


@dataclass(frozen=True, slots=True)
class JsonWhole(JsonValue):
    """A whole number of any size as a text, since many readers lose digits of numbers above 2^53."""

    def schema(self) -> dict[str, object]:
        """Give digits with their sign."""
        return {"type": "string", "pattern": "^-?[0-9]+$"}

    def write(self, value: int) -> object:
        """Give the digits."""
        return str(value)

    def read(self, value: object, info: core_schema.ValidationInfo) -> int:
        """Read the digits, at most a thousand."""
        digits = value.removeprefix("-") if isinstance(value, str) else ""
        if not (digits.isascii() and digits.isdigit()) or len(digits) > 1000:
            raise refusal("not-a-whole-number", "A whole number as a text of digits is expected.")
        return int(str(value))


def _by_words(value: object, read: Callable[[str], Value], code: str, expected: str) -> Value:
    """Read a text, or a number as a person would write it; what is not understood says what would be."""
    words = words_of(value, code, expected)
    try:
        return read(words)
    except MoneyNotUnderstood as why:
        raise refusal(code, f"Not understood: {why.expected}.") from why


def _real(value: object) -> object:
    """Give a JSON number as the float its digits name."""
    if not is_number(value):
        raise refusal("not-a-number", "A number is expected.")
    return float(str(value))


Number = Annotated[Fraction, JsonRational()]
MaybeNumber = Annotated[Fraction | None, JsonRational(optional=True)]
Price = Annotated[Money, JsonMoney()]
MaybePrice = Annotated[Money | None, JsonMoney(optional=True)]
Share = Annotated[int, JsonShare()]
MaybeShare = Annotated[int | None, JsonShare(optional=True)]
Whole = Annotated[int, JsonWhole()]
Count = Annotated[StrictInt, Field(ge=0)]
# For what is measured, such as seconds; a float never decides anything.
Real = Annotated[float, BeforeValidator(_real), Field(allow_inf_nan=False)]
