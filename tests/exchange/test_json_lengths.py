"""A length in a document is read exactly as it is written, or refused at its place."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from nesting.exchange import read_request
from nesting.exchange.json_lengths import MaybePitch, Nanometres, unit_of
from nesting.exchange.request_example import REQUEST_EXAMPLE
from nesting.units import Unit, mm
from tests.exchange.changed_request import faults

PITCH: TypeAdapter[Any] = TypeAdapter(MaybePitch)


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/runs/0/length", "1,250 mm", "ambiguous-separator", "/runs/0/length"),
        ("/runs/0/length", "3/8 mm", "fraction-not-inch", "/runs/0/length"),
        ("/runs/0/length", 0, "zero", "/runs/0/length"),
        ("/runs/0/length", -5, "negative", "/runs/0/length"),
        ("/runs/0/length", True, "not-a-length", "/runs/0/length"),
        ("/runs/0/length", ["5 mm"], "not-a-length", "/runs/0/length"),
        ("/runs/0/length", None, "not-a-length", "/runs/0/length"),
        ("/runs/0/length_nm", 5, "length-twice", "/runs/0/length"),
        ("/offcuts/0/length_nm", 0, "out-of-range", "/offcuts/0/length_nm"),
        ("/offcuts/0/length_nm", 1.5, "not-a-whole-number", "/offcuts/0/length_nm"),
        ("/offcuts/0/length_nm", True, "not-a-whole-number", "/offcuts/0/length_nm"),
        ("/families/0/strip_pitch", "5 m per 0 marks", "not-a-length", "/families/0/strip_pitch"),
        ("/families/0/strip_pitch", "5 m per marks", "not-a-length", "/families/0/strip_pitch"),
        ("/families/0/strip_pitch", "long per 3 marks", "not-a-length", "/families/0/strip_pitch"),
        ("/families/0/strip_pitch", True, "not-a-length", "/families/0/strip_pitch"),
        ("/families/0/strip_pitch_nm", "1/3", "length-twice", "/families/0/strip_pitch"),
        ("/families/1", {"name": "B", "strip_pitch_nm": "1/0"}, "not-a-length", "/families/1/strip_pitch_nm"),
        ("/families/1", {"name": "B", "strip_pitch_nm": True}, "not-a-length", "/families/1/strip_pitch_nm"),
        ("/saw/kerf", "-3 mm", "negative", "/saw/kerf"),
        ("/saw/step_nm", -1, "out-of-range", "/saw/step_nm"),
        ("/unit", ..., "no-unit", "/saw/kerf"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A length that could be misread is asked about, never guessed."""
    assert (code, at) in faults(path, value)


@pytest.mark.parametrize(
    ("literal", "length"),
    [("1250.5", mm("1250.5")), ("0.1", mm("0.1")), ("1.250", mm("1.25")), ("2e3", mm(2000)),
     ("1250.0", mm(1250)), ("0.000001", 1)],
)  # fmt: skip
def test_numbers_keep_their_digits(literal: str, length: int) -> None:
    """A float would turn 0.1 mm into something that is no whole number of nanometres."""
    text = json.dumps(REQUEST_EXAMPLE).replace('"length": 2000', f'"length": {literal}')
    assert read_request(text).stock[0].length == length


@pytest.mark.parametrize(
    ("words", "pitch"),
    [
        ("50 mm", Fraction(50_000_000)),
        # 5 m over 300 marks are 50/3 mm.
        ("5000 mm per 300 marks", Fraction(50_000_000, 3)),
        ("5 m per 300", Fraction(50_000_000, 3)),
        (Nanometres("50000000/3"), Fraction(50_000_000, 3)),
        (Nanometres(50_000_000), Fraction(50_000_000)),
        (None, None),
    ],
)
def test_a_pitch_keeps_its_thirds(words: object, pitch: Fraction | None) -> None:
    """Rounded to a nanometre, a strip of 900 marks would end beside its cut mark."""
    assert PITCH.validate_python(words) == pitch


@pytest.mark.parametrize("text", ["1e999", "1e999999999", "9" * 201, "1/0", "-1/3", "0", "half"])
def test_a_pitch_that_would_fill_the_memory_is_refused(text: str) -> None:
    """1e999999999 has a thousand million digits, all of which a fraction would hold."""
    with pytest.raises(ValidationError, match="Nanometres more than zero"):
        PITCH.validate_python(Nanometres(text))


def test_the_unit_is_the_document_s() -> None:
    """What is no unit is left to the document's own check to refuse."""
    assert unit_of({"unit": "in"}) is Unit.INCH
    assert unit_of({"unit": "furlong"}) is None
    assert unit_of({}) is None
    assert unit_of([]) is None
