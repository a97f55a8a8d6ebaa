"""The length itself: whole nanometres, and the units it may be given in."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import NewType

Length = NewType("Length", int)

NO_LENGTH = Length(0)
NM_PER_MM = 1_000_000
NM_PER_INCH = 25_400_000


class Unit(StrEnum):
    """Units a length may be given in."""

    MM = "mm"
    CM = "cm"
    M = "m"
    INCH = "in"
    FOOT = "ft"

    @property
    def nanometres(self) -> int:
        """Nanometres in one unit."""
        return {"mm": 10**6, "cm": 10**7, "m": 10**9, "in": 25_400_000, "ft": 304_800_000}[self.value]

    @property
    def metric(self) -> bool:
        """Whether it counts in tens; inches and feet count in halves."""
        return self in (Unit.MM, Unit.CM, Unit.M)


def mm(value: str | int | Fraction | Decimal) -> Length:
    """Give millimetres as a length; raises ValueError when finer than a nanometre."""
    return _exact(Fraction(value) * NM_PER_MM, f"{value} mm")


def inches(value: str | int | Fraction) -> Length:
    """Give inches, e.g. ``"36 1/4"``, as a length; raises ValueError when finer than a nanometre."""
    parts = str(value).split() if isinstance(value, str) else [value]
    return _exact(sum((Fraction(part) for part in parts), Fraction(0)) * NM_PER_INCH, f"{value} in")


def _exact(scaled: Fraction, said: str) -> Length:
    if scaled.denominator != 1:
        raise ValueError(f"{said} is finer than a nanometre.")
    return Length(int(scaled))
