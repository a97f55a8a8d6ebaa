"""Figures printed rounded."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.takeoff.figures import figure


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (Fraction("12.24"), 2, "12.24 W"),
        (Fraction("15.3"), 2, "15.3 W"),
        (Fraction(40), 2, "40 W"),
        (Fraction(5, 1000), 2, "0.01 W"),  # half goes up
        (Fraction(-5, 1000), 2, "-0.01 W"),
        (Fraction(-4, 1000), 2, "0 W"),  # no minus nought
        (Fraction(1, 3), 0, "0 W"),
        (Fraction(5, 2), 0, "3 W"),
        (Fraction("4315.2"), 0, "4315 W"),
    ],
)
def test_half_goes_up_and_noughts_go(value: Fraction, places: int, text: str) -> None:
    """A reader sees no more digits than are meant."""
    assert figure(value, "W", places) == text
