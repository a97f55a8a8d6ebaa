"""Kinds of value in documents: lengths and money as people write them, whole numbers of any size."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, TypeVar

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, StrictInt
from pydantic_core import CoreSchema, core_schema

from nesting.errors import LengthNotUnderstood, MoneyNotUnderstood
from nesting.exchange.part import NM, refusal
from nesting.money import Money, money_text, percent_text, read_money, read_share
from nesting.units import Length, Unit, read_length

Value = TypeVar("Value")

_LONGEST = 10**13  # 10 km, as for lengths given as texts
_PER = " per "
# Digits and exponents are bounded, since a large exponent would fill the memory with digits; what is
# written of any number that is read has fewer digits than a fraction may have.
_NUMBER = re.compile(
    r"-?(?:[0-9]{1,15}(?:\.[0-9]{1,15})?(?:[eE][-+]?[0-9]{1,2})?|[0-9]{1,200}(?:/[0-9]{1,200})?)"
)


@dataclass(frozen=True, slots=True)
class Nanometres:
    """A length that was given as a whole number of nanometres, not read yet."""

    raw: object


@dataclass(frozen=True, slots=True)
class GivenTwice:
    """A length that was given as a text and in nanometres."""

    text: object


@dataclass(frozen=True, slots=True)
class ReadLength:
    """
    A length as a person writes it, or in nanometres under the key with ``_nm`` behind.

    Parameters
    ----------
    may_be_zero
        Whether zero is allowed, as for a trim.
    optional
        Whether null stands for a length that is not given.
    """

    may_be_zero: bool = False
    optional: bool = False

    def write(self, value: Length) -> object:
        """Give whole nanometres; `key_of` in the request's parts adds ``_nm``."""
        return int(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read in the unit of the document."""
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, object]:
        """Text or number."""
        return {"type": ["string", "number", *(["null"] if self.optional else [])]}

    def _read(self, value: object, info: core_schema.ValidationInfo) -> Length | None:
        if value is None and self.optional:
            return None
        if isinstance(value, GivenTwice):
            raise refusal("length-twice", "The length is given in words and in nanometres; give one of them.")
        if isinstance(value, Nanometres):
            return self._nanometres(value.raw, f"{info.field_name}{NM}")
        text = number_text(value) if is_number(value) else value
        if not isinstance(text, str):
            raise refusal("not-a-length", "A length is a text such as '36 1/4 in' or a number.")
        context = info.context or {}
        try:
            return read_length(text, context.get("unit"), may_be_zero=self.may_be_zero).length
        except LengthNotUnderstood as why:
            raise length_refusal(why) from why

    def _nanometres(self, raw: object, key: str) -> Length:
        if isinstance(raw, bool) or not isinstance(raw, int):
            raise refusal("not-a-whole-number", "Nanometres are a whole number.", key=key)
        lowest = 0 if self.may_be_zero else 1
        if not lowest <= raw <= _LONGEST:
            at_least = "zero or more" if self.may_be_zero else "more than zero"
            raise refusal("out-of-range", f"A length is {at_least} and at most 10 km.", key=key)
        return Length(raw)


@dataclass(frozen=True, slots=True)
class ReadPitch:
    """A distance between cut marks: a length, ``5000 mm per 300 marks``, or nanometres as a fraction."""

    def write(self, value: Fraction) -> object:
        """Give nanometres as ``50000000`` or ``50000000/3``."""
        return str(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read in the unit of the document."""
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, object]:
        """Text or number."""
        return {"type": ["string", "number", "null"]}

    def _read(self, value: object, info: core_schema.ValidationInfo) -> Fraction | None:
        if value is None:
            return None
        if isinstance(value, GivenTwice):
            raise refusal("length-twice", "The pitch is given in words and in nanometres; give one of them.")
        if isinstance(value, Nanometres):
            return self._nanometres(value.raw, f"{info.field_name}{NM}")
        text = number_text(value) if is_number(value) else value
        if not isinstance(text, str):
            raise refusal("not-a-length", "A pitch is a length, or a text such as '5000 mm per 300 marks'.")
        length, per, marks = text.partition(_PER)
        count = marks.removesuffix("marks").strip() if per else "1"
        if not (count.isascii() and count.isdigit()) or len(count) > 9 or not int(count):
            raise refusal("not-a-length", "After 'per' a whole number of marks is expected.")
        try:
            return Fraction(read_length(length, (info.context or {}).get("unit")).length, int(count))
        except LengthNotUnderstood as why:
            raise length_refusal(why) from why

    def _nanometres(self, raw: object, key: str) -> Fraction:
        pitch = _rational(raw)
        if pitch is None or not 0 < pitch <= _LONGEST:
            raise refusal(
                "not-a-length", "Nanometres more than zero are expected, a fraction as '50000000/3'.", key=key
            )
        return pitch


@dataclass(frozen=True, slots=True)
class _TextOrNumber:
    """
    What is read exactly from a text or a number.

    Parameters
    ----------
    optional
        Whether null may stand for what is not known.
    """

    optional: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read exactly."""
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, object]:
        """Text or number."""
        return {"type": ["string", "number", *(["null"] if self.optional else [])]}

    def _read(self, value: object) -> Any:
        return None if value is None and self.optional else self._understood(value)

    def _understood(self, value: object) -> Any:
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class ReadRational(_TextOrNumber):
    """A plain number, exactly: ``9.6``, ``"9.6"``, ``"65e-6"`` or ``"48/5"``."""

    optional: bool = True

    def write(self, value: Fraction) -> object:
        """Give the number as a text, so that no reader rounds it."""
        return str(value)

    def _understood(self, value: object) -> Fraction:
        number = _rational(value)
        if number is not None:
            return number
        raise refusal("not-a-number", "A number is expected, such as 9.6, '65e-6' or '48/5'.")


@dataclass(frozen=True, slots=True)
class ReadMoney(_TextOrNumber):
    """An amount as a text or a number, at most four decimals; null when unknown."""

    optional: bool = True

    def write(self, value: Money) -> object:
        """Give the amount as a text, so that no reader rounds it."""
        return money_text(value)

    def _understood(self, value: object) -> Money:
        said = "An amount is a number or a text such as '14.00'."
        return _by_words(value, read_money, "not-an-amount", said)


@dataclass(frozen=True, slots=True)
class ReadShare(_TextOrNumber):
    """A share in per cent as a text or a number, at most two decimals; null when there is none."""

    def write(self, value: int) -> object:
        """Give the share as a text with its sign."""
        return percent_text(value)

    def _understood(self, value: object) -> int:
        said = "A share is a number of per cent or a text such as '10 %'."
        return _by_words(value, read_share, "not-a-share", said)


@dataclass(frozen=True, slots=True)
class WholeText:
    """A whole number of any size as a text, since many readers lose digits of numbers above 2^53."""

    def write(self, value: int) -> object:
        """Give the digits."""
        return str(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read the digits."""
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, object]:
        """Digits."""
        return {"type": "string", "pattern": "^-?[0-9]+$"}

    def _read(self, value: object) -> int:
        digits = value.removeprefix("-") if isinstance(value, str) else ""
        if not (digits.isascii() and digits.isdigit()) or len(digits) > 1000:
            raise refusal("not-a-whole-number", "A whole number as a text of digits is expected.")
        return int(str(value))


Size = Annotated[Length, ReadLength()]
Allowance = Annotated[Length, ReadLength(may_be_zero=True)]
MaybeAllowance = Annotated[Length | None, ReadLength(may_be_zero=True, optional=True)]
MaybePitch = Annotated[Fraction | None, ReadPitch()]
MaybeNumber = Annotated[Fraction | None, ReadRational()]
Number = Annotated[Fraction, ReadRational(optional=False)]
MaybePrice = Annotated[Money | None, ReadMoney()]
Price = Annotated[Money, ReadMoney(optional=False)]
Share = Annotated[int, ReadShare()]
MaybeShare = Annotated[int | None, ReadShare(optional=True)]
Whole = Annotated[int, WholeText()]
Count = Annotated[StrictInt, Field(ge=0)]


def _by_words(value: object, read: Callable[[str], Value], code: str, said: str) -> Value:
    """Read a text, or a number as a person would write it; what is not understood says what would be."""
    text = number_text(value) if is_number(value) else value
    if not isinstance(text, str):
        raise refusal(code, said)
    try:
        return read(text)
    except MoneyNotUnderstood as why:
        raise refusal(code, f"Not understood: {why.expected}.") from why


def _rational(value: object) -> Fraction | None:
    """Give the number that a JSON number or a text stands for, exactly; None where it is none."""
    text = str(value) if is_number(value) else value
    if isinstance(text, str) and _NUMBER.fullmatch(text):
        with suppress(ZeroDivisionError):
            return Fraction(text)
    return None


def is_number(value: object) -> bool:
    """Tell whether a value is a JSON number; true and false are none."""
    return isinstance(value, int | Decimal) and not isinstance(value, bool)


def real(value: object) -> object:
    """Give a JSON number as the float its digits name; anything else as it is, to be refused."""
    if not is_number(value):
        raise refusal("not-a-number", "A number is expected.")
    return float(str(value))


def number_text(value: object) -> str:
    """Give a JSON number in plain digits, so that it reads like what a person would write."""
    if isinstance(value, Decimal):
        return format(value.normalize(), "f")
    return str(value)


def length_refusal(why: LengthNotUnderstood) -> Exception:
    """Give the finding for a length that is not understood, with its readings."""
    readings = f" It could be {' or '.join(why.readings)}." if why.readings else ""
    said = (
        "neither the value nor the document's 'unit' names a unit" if why.code == "no-unit" else why.expected
    )
    expected = said[:1].upper() + said[1:]
    return refusal(why.code, f"{expected}.{readings}", ask=bool(why.readings))


def unit_of(tree: object) -> Unit | None:
    """Give the document's unit of bare numbers, if it names one."""
    named = tree.get("unit") if isinstance(tree, dict) else None
    return next((unit for unit in Unit if unit.value == named), None)
