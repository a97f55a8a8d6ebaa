"""Tangents and secants enclosed against values that square roots give exactly."""

from __future__ import annotations

from fractions import Fraction
from math import isqrt

import pytest

from nesting.errors import ProblemError
from nesting.takeoff.angles import Enclosure, secant, tangent

DIGITS = 10**45


def root(number: int) -> Fraction:
    """Give a square root to 45 digits by whole numbers only."""
    return Fraction(isqrt(number * DIGITS * DIGITS), DIGITS)


@pytest.mark.parametrize(
    ("enclosure", "value"),
    [
        (tangent(Fraction(30)), root(3) / 3),
        (tangent(Fraction(60)), root(3)),
        (tangent(Fraction(45, 2)), root(2) - 1),
        (tangent(Fraction(15)), 2 - root(3)),
        (tangent(Fraction(-75)), -2 - root(3)),
        (secant(Fraction(45)), root(2)),
        (secant(Fraction(30)), 2 * root(3) / 3),
        (secant(Fraction(-30)), 2 * root(3) / 3),
    ],
)
def test_known_values_are_met_to_44_digits(enclosure: Enclosure, value: Fraction) -> None:
    """Half-angle and equilateral identities give the same numbers without any series."""
    assert abs(enclosure.low - value) < Fraction(10, DIGITS)
    assert abs(enclosure.high - value) < Fraction(10, DIGITS)
    assert enclosure.low < enclosure.high


@pytest.mark.parametrize("degrees", [Fraction(1), Fraction(45, 2), Fraction(30), Fraction(79)])
def test_the_true_value_lies_inside(degrees: Fraction) -> None:
    """1 + tan^2 = sec^2 must hold between the bounds, or one of them excludes the truth."""
    tan, sec = tangent(degrees), secant(degrees)
    assert 1 + tan.low**2 < sec.high**2
    assert sec.low**2 < 1 + tan.high**2


def test_rational_values_are_exact() -> None:
    """A right-angled corner must not lose a nanometre to a rounded tangent."""
    assert tangent(Fraction(45)) == Enclosure.of(1)
    assert tangent(Fraction(-45)) == Enclosure.of(-1)
    assert tangent(Fraction(0)) == Enclosure.of(0)
    assert secant(Fraction(60)) == secant(Fraction(-60)) == Enclosure.of(2)
    assert secant(Fraction(0)) == Enclosure.of(1)


def test_arithmetic_keeps_the_value_inside() -> None:
    """Differences and negative factors swap the bounds."""
    third, half = Enclosure(Fraction(3, 10), Fraction(4, 10)), Enclosure.of(Fraction(1, 2))
    assert third + half == Enclosure(Fraction(8, 10), Fraction(9, 10))
    assert third - half == Enclosure(Fraction(-2, 10), Fraction(-1, 10))
    assert third - third == Enclosure(Fraction(-1, 10), Fraction(1, 10))
    assert third * -10 == Enclosure(Fraction(-4), Fraction(-3))
    assert abs(third - half) == Enclosure(Fraction(1, 10), Fraction(2, 10))
    assert abs(Enclosure(Fraction(-1), Fraction(2))) == Enclosure(Fraction(0), Fraction(2))


def test_rounding_goes_to_the_named_side() -> None:
    """Up for what takes room, down for what must fit into it; whole numbers stay."""
    between = Enclosure(Fraction(5, 2), Fraction(7, 2))
    assert (between.up(), between.down()) == (4, 2)
    assert (Enclosure.of(3).up(), Enclosure.of(3).down()) == (3, 3)


@pytest.mark.parametrize("measure", [tangent, secant])
def test_no_saw_turns_to_81_degrees(measure: object) -> None:
    """A slip of the unit, such as radians or a corner for a mitre, must not pass as a slope."""
    with pytest.raises(ProblemError, match="steeper"):
        measure(Fraction(81))  # type: ignore[operator]
