"""Angles and gaps of mitres lie within bounds that hold the true value."""

from __future__ import annotations

from fractions import Fraction
from math import cos, isclose, radians, tan

import pytest

from nesting.takeoff.angles import secant, tangent
from nesting.verify.slopes import gap_of, lean, sec_of, stroke_of, tan_of, tip_of


@pytest.mark.parametrize("degrees", [0, 1, 15, Fraction(45, 2), 30, 45, 60, Fraction(677, 10), 80])
def test_bounds_hold_the_true_value_tightly(degrees: Fraction | int) -> None:
    """Checked against floats, and against the take-off's own series, which shares no code with these."""
    slope = Fraction(degrees)
    for bounds, value, other in (
        (tan_of(slope), tan(radians(slope)), tangent(slope)),
        (sec_of(slope), 1 / cos(radians(slope)), secant(slope)),
    ):
        assert isclose(bounds[0], value, rel_tol=1e-12, abs_tol=1e-12)
        assert 0 <= bounds[1] - bounds[0] < Fraction(1, 10**30)
        assert bounds[0] <= other.high
        assert other.low <= bounds[1]


def test_exact_angles_are_exact() -> None:
    """A mitre of 45 degrees must not cost a nanometre for rounding."""
    assert tan_of(Fraction(-45)) == (Fraction(1), Fraction(1))
    assert sec_of(Fraction(60)) == (Fraction(2), Fraction(2))
    assert lean(Fraction(-45)) == (Fraction(-1), Fraction(-1))
    assert tip_of(30_000_000, Fraction(45)) == 15_000_000


def test_strokes_and_gaps_of_the_trade() -> None:
    """K 3 at 45 degrees takes 4.242641 mm; unequal slopes of 45 over 30 mm drop a wedge of 30 mm."""
    assert stroke_of(3_000_000, Fraction(45)) == 4_242_641
    assert gap_of(30_000_000, 3_000_000, Fraction(-45), Fraction(-45)) == 4_242_641
    assert gap_of(30_000_000, 3_000_000, Fraction(-45), Fraction(45)) == 34_242_641
    assert gap_of(30_000_000, 3_000_000, Fraction(0), Fraction(0)) == 3_000_000
