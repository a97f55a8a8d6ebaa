"""How a value of the trade stands in JSON: read, written, shown in the schema, refused."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

# Digits and exponents are bounded, since a large exponent would fill the memory with digits; what is
# written of any number that is read has fewer digits than a fraction may have.
_NUMBER = re.compile(
    r"-?(?:[0-9]{1,15}(?:\.[0-9]{1,15})?(?:[eE][-+]?[0-9]{1,2})?|[0-9]{1,200}(?:/[0-9]{1,200})?)"
)


class JsonValue(ABC):
    """One kind of value that JSON has no type of its own for; stands in a field's annotation."""

    __slots__ = ()

    @abstractmethod
    def read(self, value: object, info: core_schema.ValidationInfo) -> object:
        """
        Give the value that the JSON stands for.

        Raises
        ------
        PydanticCustomError
            When it is not understood; see `refusal`.
        """

    @abstractmethod
    def write(self, value: Any) -> object:
        """Give the value as JSON holds it."""

    @abstractmethod
    def schema(self) -> dict[str, object]:
        """Give the JSON Schema of what is read."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Have pydantic read with `read` alone."""
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, object]:
        """Have pydantic show `schema`."""
        return self.schema()


@dataclass(frozen=True, slots=True)
class TextOrNumber(JsonValue):
    """
    What is read exactly from a text or a number.

    Parameters
    ----------
    optional
        Whether null may stand for what is not known.
    """

    optional: bool = False

    def schema(self) -> dict[str, object]:
        """Give text or number, and null where it may be."""
        return {"type": ["string", "number", *(["null"] if self.optional else [])]}

    def read(self, value: object, info: core_schema.ValidationInfo) -> object:
        """Give what is understood, None for a null that may be."""
        return None if value is None and self.optional else self.understood(value, info)

    @abstractmethod
    def understood(self, value: object, info: core_schema.ValidationInfo) -> object:
        """
        Give the value that a JSON value other than a permitted null stands for.

        Raises
        ------
        PydanticCustomError
            When it is not understood.
        """


def is_number(value: object) -> bool:
    """Tell whether a value is a JSON number; true and false are none."""
    return isinstance(value, int | Decimal) and not isinstance(value, bool)


def rational_of(value: object) -> Fraction | None:
    """Give the number that a JSON number or a text stands for, exactly; None where it is none."""
    text = str(value) if is_number(value) else value
    if isinstance(text, str) and _NUMBER.fullmatch(text):
        with suppress(ZeroDivisionError):
            return Fraction(text)
    return None


def words_of(value: object, code: str, expected: str) -> str:
    """
    Give a text as it is, and a number in the plain digits a person would write.

    Raises
    ------
    PydanticCustomError
        When it is neither; it carries the code, and says what is expected.
    """
    if isinstance(value, Decimal):
        return format(value.normalize(), "f")
    if is_number(value):
        return str(value)
    if not isinstance(value, str):
        raise refusal(code, expected)
    return value


def refusal(
    code: str, message: str, *, key: str = "", under: str = "", ask: bool = False
) -> PydanticCustomError:
    """
    Give the error that becomes a finding.

    Parameters
    ----------
    key
        Key the value was really given under, when it is not the field's.
    under
        Key inside the object that is to blame, when the whole object was checked.
    ask
        Whether a person has to choose between readings.
    """
    context = {"message": message, "key": key, "under": under, "ask": ask}
    return PydanticCustomError(code.replace("-", "_"), "{message}", context)
