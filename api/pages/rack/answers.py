"""What somebody has filled into a form, read field by field; every mistake is told beside its own field."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import TypeVar

from pydantic import TypeAdapter, ValidationError

from api.web.inputs import Word
from api.web.lengths import read_measure
from nesting.domain.dates import day_of
from nesting.errors import LengthNotUnderstood, MoneyNotUnderstood, ProblemError
from nesting.money import Money
from nesting.sheets.read_price import PriceAmbiguous, read_price
from nesting.units import Length, Unit

Chosen = TypeVar("Chosen", bound=StrEnum)
_WORD: TypeAdapter[str] = TypeAdapter(Word)


class Answers:
    """
    Reads a form; ``errors`` holds what was not understood, by the name of the field.

    Parameters
    ----------
    given
        The fields as they were sent.
    unit
        Unit of bare numbers, which the form says beside its lengths.
    """

    def __init__(self, given: Mapping[str, str], unit: Unit) -> None:
        self.given, self._unit = dict(given), unit
        self.errors: dict[str, str] = {}

    def text(self, name: str) -> str:
        """Give what was typed, without blanks around it."""
        return self.given.get(name, "").strip()

    def word(self, name: str, needed: str = "") -> str:
        """
        Give a short text.

        Parameters
        ----------
        needed
            What to say when the field is empty; without it an empty field is in order.
        """
        typed = self.text(name)
        if not typed and needed:
            self.errors[name] = needed
        try:
            return _WORD.validate_python(typed)
        except ValidationError:
            self.errors[name] = "Up to 200 letters, digits and signs on one line are accepted."
            return ""

    def length(self, name: str, needed: str = "") -> Length | None:
        """Give a length; None where the field is empty or not understood."""
        typed = self.text(name)
        if not typed:
            if needed:
                self.errors[name] = needed
            return None
        try:
            return read_measure(typed, self._unit)
        except LengthNotUnderstood as why:
            self.errors[name] = f"{typed!r} is not a plain length; {why.expected}."
            return None

    def money(self, name: str) -> Money | None:
        """Give an amount of money; None where the field is empty or not understood."""
        typed = self.text(name)
        if not typed:
            return None
        try:
            price = read_price(typed)
        except PriceAmbiguous as why:
            self.errors[name] = f"{typed!r} could be {why.expected}."
            return None
        except MoneyNotUnderstood:
            self.errors[name] = f"{typed!r} is no amount; a number such as 14.00 or 18,60 is accepted."
            return None
        if price.currencies:
            self.errors[name] = "Leave the currency out; it is the one the shop reckons in."
            return None
        return price.amount

    def day(self, name: str) -> str:
        """Give a day, ISO 8601; empty where the field is empty or not understood."""
        typed = self.text(name)
        try:
            return day_of(typed).isoformat() if typed else ""
        except ProblemError as why:
            self.errors[name] = str(why)
            return ""

    def whole(self, name: str, needed: str, *, least: int = 0) -> int:
        """Give a whole number of bars; ``least`` where it is not understood."""
        typed = self.text(name)
        if typed.isascii() and typed.isdecimal() and len(typed) < 8 and least <= int(typed) <= 1_000_000:
            return int(typed)
        self.errors[name] = needed
        return least

    def choice(self, name: str, kind: type[Chosen], otherwise: Chosen) -> Chosen:
        """Give what was chosen from a list; a page offers nothing else."""
        return next((one for one in kind if one.value == self.text(name)), otherwise)
