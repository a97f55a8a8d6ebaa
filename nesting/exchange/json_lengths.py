"""Lengths and pitches in JSON: in words as people write them, or in nanometres under a key of their own."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic_core import core_schema

from nesting.errors import LengthNotUnderstood
from nesting.exchange.json_values import TextOrNumber, rational_of, refusal, words_of
from nesting.units import Length, Unit, read_length

NM = "_nm"
_LONGEST = 10**13  # 10 km, as for lengths given as texts
_PER = " per "


@dataclass(frozen=True, slots=True)
class Nanometres:
    """What stood under the key with ``_nm`` behind, not read yet."""

    raw: object


@dataclass(frozen=True, slots=True)
class GivenTwice:
    """What was given in words, the nanometres standing beside it."""

    text: object


@dataclass(frozen=True, slots=True)
class WordsOrNanometres(TextOrNumber):
    """What may be given in words, in the unit of the document, or in nanometres under its key + ``_nm``."""

    named: ClassVar[str]
    expected: ClassVar[str]
    # JSON types that may stand for it in nanometres.
    nanometre_types: ClassVar[tuple[str, ...]]

    def understood(self, value: object, info: core_schema.ValidationInfo) -> object:
        """
        Give the length in nanometres, however it was given.

        Raises
        ------
        PydanticCustomError
            When it is given twice, in no way that is known, or so that it could mean several lengths.
        """
        if isinstance(value, GivenTwice):
            said = f"The {self.named} is given in words and in nanometres; give one of them."
            raise refusal("length-twice", said)
        if isinstance(value, Nanometres):
            return self.from_nanometres(value.raw, f"{info.field_name}{NM}")
        words = words_of(value, "not-a-length", self.expected)
        try:
            return self.from_words(words, (info.context or {}).get("unit"))
        except LengthNotUnderstood as why:
            raise _not_understood(why) from why

    @abstractmethod
    def from_words(self, words: str, unit: Unit | None) -> object:
        """
        Read it as a person writes it; a bare number counts in the unit.

        Raises
        ------
        LengthNotUnderstood
            When the words name no length, or could name several.
        """

    @abstractmethod
    def from_nanometres(self, raw: object, key: str) -> object:
        """
        Read it in nanometres.

        Raises
        ------
        PydanticCustomError
            When the number is none, or out of range; it names the key.
        """


@dataclass(frozen=True, slots=True)
class JsonLength(WordsOrNanometres):
    """
    A length, such as ``"36 1/4 in"``.

    Parameters
    ----------
    may_be_zero
        Whether zero is allowed, as for a trim.
    """

    named: ClassVar[str] = "length"
    expected: ClassVar[str] = "A length is a text such as '36 1/4 in' or a number."
    nanometre_types: ClassVar[tuple[str, ...]] = ("integer",)

    may_be_zero: bool = False

    def write(self, value: Length) -> object:
        """Give whole nanometres; the request's parts write the key with ``_nm`` behind."""
        return int(value)

    def from_words(self, words: str, unit: Unit | None) -> Length:
        """Read one length."""
        return read_length(words, unit, may_be_zero=self.may_be_zero).length

    def from_nanometres(self, raw: object, key: str) -> Length:
        """Take whole nanometres only."""
        if isinstance(raw, bool) or not isinstance(raw, int):
            raise refusal("not-a-whole-number", "Nanometres are a whole number.", key=key)
        lowest = 0 if self.may_be_zero else 1
        if not lowest <= raw <= _LONGEST:
            at_least = "zero or more" if self.may_be_zero else "more than zero"
            raise refusal("out-of-range", f"A length is {at_least} and at most 10 km.", key=key)
        return Length(raw)


@dataclass(frozen=True, slots=True)
class JsonPitch(WordsOrNanometres):
    """A distance between cut marks: a length, or ``5000 mm per 300 marks``; in nanometres a fraction."""

    named: ClassVar[str] = "pitch"
    expected: ClassVar[str] = "A pitch is a length, or a text such as '5000 mm per 300 marks'."
    nanometre_types: ClassVar[tuple[str, ...]] = ("string", "integer")

    def write(self, value: Fraction) -> object:
        """Give nanometres as ``50000000`` or ``50000000/3``."""
        return str(value)

    def from_words(self, words: str, unit: Unit | None) -> Fraction:
        """Read a length, divided by the marks it spans where they are named."""
        length, per, marks = words.partition(_PER)
        count = marks.removesuffix("marks").strip() if per else "1"
        if not (count.isascii() and count.isdigit()) or len(count) > 9 or not int(count):
            raise refusal("not-a-length", "After 'per' a whole number of marks is expected.")
        return Fraction(read_length(length, unit).length, int(count))

    def from_nanometres(self, raw: object, key: str) -> Fraction:
        """Take a whole number, or a fraction as a text."""
        pitch = rational_of(raw)
        if pitch is None or not 0 < pitch <= _LONGEST:
            said = "Nanometres more than zero are expected, a fraction as '50000000/3'."
            raise refusal("not-a-length", said, key=key)
        return pitch


Size = Annotated[Length, JsonLength()]
Allowance = Annotated[Length, JsonLength(may_be_zero=True)]
MaybeAllowance = Annotated[Length | None, JsonLength(may_be_zero=True, optional=True)]
MaybePitch = Annotated[Fraction | None, JsonPitch(optional=True)]


def unit_of(tree: object) -> Unit | None:
    """Give the unit that a document names for its bare numbers, if it names one."""
    named = tree.get("unit") if isinstance(tree, dict) else None
    return next((unit for unit in Unit if unit.value == named), None)


def _not_understood(why: LengthNotUnderstood) -> Exception:
    """Give the finding for a length that is not understood, with its readings."""
    readings = f" It could be {' or '.join(why.readings)}." if why.readings else ""
    said = (
        "neither the value nor the document's 'unit' names a unit" if why.code == "no-unit" else why.expected
    )
    expected = said[:1].upper() + said[1:]
    return refusal(why.code, f"{expected}.{readings}", ask=bool(why.readings))
