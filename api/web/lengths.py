"""Lengths, money and times as they are answered."""

from __future__ import annotations

import datetime as dt
from typing import Annotated

from pydantic import BaseModel, Field

from nesting.domain.dates import day_of
from nesting.errors import LengthNotUnderstood
from nesting.money import money_text
from nesting.units import Length, Unit, length_text, read_length

LONGEST = 1_000_000_000_000  # a kilometre: more than any bar, and far from any integer's end


def read_measure(text: str, unit: Unit | None, *, may_be_zero: bool = False) -> Length:
    """
    Read what somebody has measured of a bar; see ``read_length``.

    Raises
    ------
    LengthNotUnderstood
        When the text is no length, or one of more than a kilometre; says how much would be accepted in
        the unit that was typed.
    """
    reading = read_length(text, unit, may_be_zero=may_be_zero)
    if reading.length > LONGEST:
        raise LengthNotUnderstood(text, too_long_words(reading.unit), code="out-of-range")
    return reading.length


def too_long_words(unit: Unit) -> str:
    """Say how long a measure may be, in a unit that people think in."""
    return f"no bar is longer than {length_text(LONGEST, unit)}"


class LengthRead(BaseModel):
    """A length, exactly, and as a text in the unit asked for."""

    nm: int = Field(description="Nanometres, exact.", examples=[2_500_000_000])
    text: str = Field(description="In the unit asked for; ~ before what is not exact.", examples=["2500 mm"])


def length_read(length: int, unit: Unit) -> LengthRead:
    """Give a length as it is answered."""
    return LengthRead(nm=length, text=length_text(Length(length), unit))


def money_read(amount: int | None) -> str | None:
    """Give an amount as it is answered; None where none is known."""
    return None if amount is None else money_text(amount)


Moment = Annotated[
    str,
    Field(
        description="UTC, RFC 3339.",
        examples=["2026-03-02T09:30:00.000000Z"],
        json_schema_extra={"format": "date-time"},
    ),
]


def day_of_moment(microseconds: int) -> str:
    """Give the UTC day of a time, ISO 8601."""
    return dt.datetime.fromtimestamp(microseconds // 1_000_000, dt.UTC).date().isoformat()


def moment_of_day(day: str) -> int:
    """
    Give the time a UTC day begins, microseconds since 1970.

    Raises
    ------
    ProblemError
        When the text names no day.
    """
    begins = dt.datetime.combine(day_of(day), dt.time(), dt.UTC)
    return int(begins.timestamp()) * 1_000_000


def moment(microseconds: int) -> str:
    """Give a time as it is answered."""
    at = dt.datetime.fromtimestamp(microseconds // 1_000_000, dt.UTC)
    return at.replace(microsecond=microseconds % 1_000_000).strftime("%Y-%m-%dT%H:%M:%S.%fZ")
