"""Reading a form."""

from __future__ import annotations

import pytest

from api.pages.rack.answers import Answers
from nesting.domain.material import Part
from nesting.units import Unit, inches, mm


def read(value: str, unit: Unit = Unit.MM) -> Answers:
    return Answers({"field": value}, unit)


@pytest.mark.parametrize(
    ("typed", "unit", "length"),
    [("1815", Unit.MM, mm(1815)), ("1815", Unit.INCH, inches(1815)), ("71 1/2 in", Unit.MM, inches("143/2"))],
)
def test_a_bare_number_is_in_the_units_of_the_form(typed: str, unit: Unit, length: int) -> None:
    """What names its own unit keeps it."""
    answers = read(f" {typed} ", unit)
    assert answers.length("field") == length
    assert answers.errors == {}


@pytest.mark.parametrize("typed", ["1,250", "4-6", "2 km", "two", "1001 m"])
def test_a_length_that_is_not_plain_is_told_with_what_was_typed(typed: str) -> None:
    """Nothing is guessed; an answer comes beside the field."""
    answers = read(typed)
    assert answers.length("field") is None
    assert answers.errors["field"]


def test_empty_fields_are_refused_only_where_they_are_needed() -> None:
    """With the words the caller gives."""
    answers = read("  ")
    assert (answers.length("field"), answers.money("field"), answers.word("field")) == (None, None, "")
    assert answers.errors == {}
    answers.word("field", "Say which.")
    assert answers.errors == {"field": "Say which."}


def test_words_are_plain_and_short() -> None:
    """Control characters and novels stay out of the books."""
    for typed in ("a\x07b", "x" * 201):
        answers = read(typed)
        assert answers.word("field") == ""
        assert "field" in answers.errors


def test_money_and_whole_numbers() -> None:
    """As in a list: with a decimal comma too, four decimals at most; bars are counted, not measured."""
    assert read("3.50").money("field") == 35_000
    assert read("14,90").money("field") == 149_000
    assert read("1.250,00").money("field") == 12_500_000
    for typed in ("-1", "1,500", "3.00001", "3.50 EUR"):
        answers = read(typed)
        assert answers.money("field") is None
        assert "field" in answers.errors
    assert read("12").whole("field", "!") == 12
    for typed in ("", "-1", "1.5", "²", "99999999"):
        answers = read(typed)
        answers.whole("field", "Give a number.")
        assert answers.errors == {"field": "Give a number."}


def test_a_choice_nobody_offers_takes_the_usual_one() -> None:
    """Only a program sends one."""
    assert read("cover").choice("field", Part, Part.CHANNEL) is Part.COVER
    assert read("lid").choice("field", Part, Part.CHANNEL) is Part.CHANNEL
