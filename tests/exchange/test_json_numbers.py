"""Numbers in a document are exact, bounded in size, and read back as they were written."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from nesting.exchange.json_numbers import (
    JsonMoney,
    JsonRational,
    JsonShare,
    JsonWhole,
    MaybeNumber,
    MaybePrice,
    MaybeShare,
    Number,
    Price,
    Real,
    Share,
    Whole,
)
from nesting.money import Money
from tests.exchange.changed_request import faults

WRITTEN = st.from_regex(
    r"-?[0-9]{1,15}(\.[0-9]{1,15})?([eE][-+]?[0-9]{1,2})?|[0-9]{1,15}/[1-9]{1,15}", fullmatch=True
)


def read(kind: Any, value: object) -> Any:
    """Read one value of a kind."""
    return TypeAdapter(kind).validate_python(value)


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/stock/0/price", -1, "not-an-amount", "/stock/0/price"),
        ("/stock/0/price", "11.40 XTS", "not-an-amount", "/stock/0/price"),
        ("/stock/0/price", [], "not-an-amount", "/stock/0/price"),
        ("/stock/0/price", True, "not-an-amount", "/stock/0/price"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A price that could be misread is never guessed."""
    assert (code, at) in faults(path, value)


@given(WRITTEN)
def test_a_number_that_is_read_can_be_read_again(text: str) -> None:
    """0.123456789012347 is 123456789012347/10^15: more digits than people may write, yet it has to read."""
    number = read(Number, text)
    assert read(Number, JsonRational().write(number)) == number


@pytest.mark.parametrize(
    "text", ["1e999", "1e-999", "1e999999999", "9" * 201, "1/0", "1/" + "9" * 201, "½", ""]
)
def test_numbers_that_would_fill_the_memory_are_refused(text: str) -> None:
    """1e999999999 has a thousand million digits, all of which a fraction would hold."""
    with pytest.raises(ValidationError, match="A number is expected"):
        read(Number, text)


@pytest.mark.parametrize(
    ("kind", "value", "meant"),
    [
        (Number, Decimal("9.6"), Fraction(48, 5)),
        (Number, "65e-6", Fraction(65, 10**6)),
        (Price, Decimal("11.40"), Money(114_000)),
        (Price, 14, Money(140_000)),
        (Share, Decimal("2.5"), 250),
        (Share, "10 %", 1000),
        (Whole, "-" + "9" * 40, -(10**40) + 1),
        (Real, Decimal("0.25"), 0.25),
    ],
)
def test_texts_and_numbers_are_read_exactly(kind: Any, value: object, meant: object) -> None:
    """Programs send numbers, people texts; both mean the same digits."""
    assert read(kind, value) == meant


@pytest.mark.parametrize(("kind", "maybe"), [(Number, MaybeNumber), (Price, MaybePrice), (Share, MaybeShare)])
def test_null_is_read_only_where_something_may_be_unknown(kind: Any, maybe: Any) -> None:
    """A cost that nobody knows must not become nothing to pay."""
    assert read(maybe, None) is None
    with pytest.raises(ValidationError):
        read(kind, None)


@pytest.mark.parametrize(
    ("kind", "value"),
    [(Number, True), (Price, True), (Share, "half"), (Share, [1]), (Whole, 7), (Whole, "1.0"), (Whole, "-"),
     (Whole, "1" * 1001), (Real, "0.5"), (Real, False)],
)  # fmt: skip
def test_what_is_of_another_kind_is_refused(kind: Any, value: object) -> None:
    """True is 1 to some programs; a file that says so was not meant that way."""
    with pytest.raises(ValidationError):
        read(kind, value)


def test_numbers_are_written_as_texts() -> None:
    """Many readers hold numbers as floats, which have no 11.40 and no 48/5."""
    assert JsonRational().write(Fraction(48, 5)) == "48/5"
    assert JsonMoney().write(Money(114_000)) == "11.40"
    assert JsonShare().write(250) == "2.5 %"
    assert JsonWhole().write(2**64) == "18446744073709551616"
