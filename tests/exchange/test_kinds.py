"""Tests of nesting.exchange.kinds."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from nesting.exchange.kinds import MaybePitch, Nanometres, Number

NUMBER: TypeAdapter[Fraction] = TypeAdapter(Number)
PITCH: TypeAdapter[Any] = TypeAdapter(MaybePitch)


@given(
    st.from_regex(
        r"-?[0-9]{1,15}(\.[0-9]{1,15})?([eE][-+]?[0-9]{1,2})?|[0-9]{1,15}/[1-9]{1,15}", fullmatch=True
    )
)
def test_a_number_that_is_read_can_be_read_again(text: str) -> None:
    """0.123456789012347 is 123456789012347/10^15: more digits than people may write, yet it has to read."""
    read = NUMBER.validate_python(text)
    assert NUMBER.validate_python(str(read)) == read


@pytest.mark.parametrize(
    "text", ["1e999", "1e-999", "1e999999999", "9" * 201, "1/0", "1/" + "9" * 201, "½", ""]
)
def test_numbers_that_would_fill_the_memory_are_refused(text: str) -> None:
    """1e999999999 has a thousand million digits, all of which a fraction would hold."""
    with pytest.raises(ValidationError, match="A number is expected"):
        NUMBER.validate_python(text)
    with pytest.raises(ValidationError, match="Nanometres more than zero"):
        PITCH.validate_python(Nanometres(text))
