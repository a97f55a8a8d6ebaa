"""Tangents and secants of angles in degrees between two rationals, so that no float decides a fit."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, localcontext
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor

from nesting.domain.mitre import STEEPEST
from nesting.errors import ProblemError

_PI = Decimal("3.14159265358979323846264338327950288419716939937510582097494459230781640628620899")
_DIGITS = 70
_TERMS = 40  # x <= 1.4: x^80 / 80! is below 1e-107
_MARGIN = Fraction(1, 10**50)  # far above the rounding of 70 digits, far below a nanometre over a kilometre


@dataclass(frozen=True, slots=True)
class Enclosure:
    """
    A number known to lie between two rationals, ``low == high`` where it is rational itself.

    Sums, differences and products with whole numbers keep the true value inside.
    """

    low: Fraction
    high: Fraction

    @classmethod
    def of(cls, value: int | Fraction) -> Enclosure:
        """Give an exactly known number."""
        return cls(Fraction(value), Fraction(value))

    def __add__(self, other: Enclosure) -> Enclosure:
        return Enclosure(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Enclosure) -> Enclosure:
        return Enclosure(self.low - other.high, self.high - other.low)

    def __mul__(self, factor: int | Fraction) -> Enclosure:
        ends = (self.low * factor, self.high * factor)
        return Enclosure(min(ends), max(ends))

    def __abs__(self) -> Enclosure:
        largest = max(abs(self.low), abs(self.high))
        return Enclosure(max(self.low, -self.high, Fraction(0)), largest)

    def up(self) -> int:
        """Give the least whole number that is certainly not smaller."""
        return ceil(self.high)

    def down(self) -> int:
        """Give the greatest whole number that is certainly not larger."""
        return floor(self.low)


@lru_cache(maxsize=1024)
def tangent(degrees: Fraction) -> Enclosure:
    """
    Enclose tan of an angle; 0 and 45 degrees are exact, the only rational ones (Niven 1956).

    Raises
    ------
    ProblemError
        When the angle is steeper than any saw can be set to.
    """
    if abs(degrees) in (0, 45):
        return Enclosure.of((degrees > 0) - (degrees < 0))
    sine, cosine = _sine_and_cosine(degrees)
    with localcontext() as context:
        context.prec = _DIGITS
        return _around(sine / cosine)


@lru_cache(maxsize=1024)
def secant(degrees: Fraction) -> Enclosure:
    """
    Enclose 1/cos of an angle; 0 and 60 degrees are exact, the only rational ones (Niven 1956).

    Raises
    ------
    ProblemError
        When the angle is steeper than any saw can be set to.
    """
    if abs(degrees) in (0, 60):
        return Enclosure.of(2 if degrees else 1)
    _, cosine = _sine_and_cosine(degrees)
    with localcontext() as context:
        context.prec = _DIGITS
        return _around(1 / cosine)


def _around(value: Decimal) -> Enclosure:
    exact = Fraction(value)
    return Enclosure(exact - _MARGIN, exact + _MARGIN)


def _sine_and_cosine(degrees: Fraction) -> tuple[Decimal, Decimal]:
    """Sum both Taylor series to 70 digits."""
    if abs(degrees) > STEEPEST:
        raise ProblemError(f"A mitre of {degrees} degrees is steeper than {STEEPEST}.")
    with localcontext() as context:
        context.prec = _DIGITS
        x = _PI * degrees.numerator / (180 * degrees.denominator)
        sums, term = [Decimal(0)] * 4, Decimal(1)
        for n in range(2 * _TERMS):
            sums[n % 4] += term
            term = term * x / (n + 1)
        return sums[1] - sums[3], sums[0] - sums[2]
