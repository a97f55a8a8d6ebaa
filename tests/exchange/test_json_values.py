"""One kind of value is read, shown and refused alike wherever it stands."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Annotated

import pytest
from pydantic import TypeAdapter, ValidationError
from pydantic_core import PydanticCustomError, core_schema

from nesting.exchange.json_values import TextOrNumber, is_number, rational_of, refusal, words_of


class Shout(TextOrNumber):
    """Words in capitals."""

    def write(self, value: str) -> object:
        """Whisper."""
        return value.lower()

    def understood(self, value: object, info: core_schema.ValidationInfo) -> str:
        """Shout."""
        return words_of(value, "not-said", "Something is expected.").upper()


def test_a_kind_tells_pydantic_how_it_is_read_and_shown() -> None:
    """One text for reader and schema: a program that keeps to the schema is understood."""
    shout: TypeAdapter[str] = TypeAdapter(Annotated[str, Shout()])
    assert shout.validate_python("oy") == "OY"
    assert shout.json_schema() == {"type": ["string", "number"]}
    with pytest.raises(ValidationError, match="Something is expected"):
        shout.validate_python(None)
    maybe: TypeAdapter[str | None] = TypeAdapter(Annotated[str | None, Shout(optional=True)])
    assert maybe.validate_python(None) is None
    assert maybe.json_schema() == {"type": ["string", "number", "null"]}


@pytest.mark.parametrize(
    ("value", "words"),
    [("36 1/4", "36 1/4"), (7, "7"), (Decimal("1E+3"), "1000"), (Decimal("0.000001"), "0.000001")],
)
def test_numbers_become_the_words_a_person_would_write(value: object, words: str) -> None:
    """Nobody writes 1E+3 on a list, so no reader of lists has to know it."""
    assert words_of(value, "not-said", "") == words


@pytest.mark.parametrize("value", [None, True, [], {}])
def test_what_is_neither_text_nor_number_has_no_words(value: object) -> None:
    """The refusal carries what the caller says is expected."""
    with pytest.raises(PydanticCustomError, match="A length is expected"):
        words_of(value, "not-a-length", "A length is expected.")


def test_true_is_no_number() -> None:
    """In Python true is a whole number, in JSON it is none."""
    assert is_number(1)
    assert is_number(Decimal("0.5"))
    assert not is_number(True)
    assert not is_number("1")


@pytest.mark.parametrize(
    ("value", "number"),
    [
        (Decimal("9.6"), Fraction(48, 5)),
        ("48/5", Fraction(48, 5)),
        ("-65e-6", Fraction(-65, 10**6)),
        ("48/0", None),
        ("1e100", None),
        (True, None),
        (None, None),
    ],
)
def test_a_number_is_exact_or_none(value: object, number: Fraction | None) -> None:
    """9.6 as a float is a little less than 48/5."""
    assert rational_of(value) == number


def test_a_refusal_carries_what_a_finding_needs() -> None:
    """Code, message, and the place when it is not the field's own."""
    why = refusal("not-a-length", "Say it.", key="length_nm", ask=True)
    assert (why.type, why.message()) == ("not_a_length", "Say it.")
    assert why.context == {"message": "Say it.", "key": "length_nm", "under": "", "ask": True}
