"""Heat between cover and channel: worked figures, and no length changed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.takeoff.figures import figure
from nesting.takeoff.heat import (
    ALUMINIUM,
    POLYCARBONATE,
    cover_play,
    growth,
    thermal_gap,
)
from nesting.units import inches, mm

K30 = Fraction(30)


@pytest.mark.parametrize(
    ("cover", "kelvin", "millimetres"),
    [
        (POLYCARBONATE, K30, "3.744"),  # 41.6e-6 x 3000 x 30
        (POLYCARBONATE, Fraction(-20), "-2.496"),
        (Fraction(70, 10**6), K30, "4.194"),  # 46.6e-6 x 3000 x 30
    ],
)
def test_three_metres_of_cover_outgrow_the_channel(
    cover: Fraction, kelvin: Fraction, millimetres: str
) -> None:
    """(alpha_cover - alpha_Al) A dT."""
    assert thermal_gap(mm(3000), kelvin, cover=cover) == mm(millimetres)


def test_the_gap_in_inches() -> None:
    """3.744 mm are 0.147 in."""
    assert figure(Fraction(thermal_gap(mm(3000), K30), inches(1)), "in", 3) == "0.147 in"


def test_the_channel_alone_grows_too() -> None:
    """2.11 mm over 3 m and 30 K: it matters in a hard opening."""
    assert growth(mm(3000), ALUMINIUM, K30) == mm("2.106")


def test_a_metre_of_polycarbonate_over_eighty_kelvin() -> None:
    """0.065 mm per metre and kelvin give 5.2 mm (two sheet makers' installation pages)."""
    assert growth(mm(1000), POLYCARBONATE, Fraction(80)) == mm("5.2")


def test_hot_play_and_cold_gap() -> None:
    """3.744 + 0.5 fit when hot; 2.496 more stand open when cold."""
    play = cover_play(mm(3000), hotter=K30, colder=Fraction(20), fit=mm("0.5"))
    assert (play.wanted, play.cold_gap) == (mm("4.244"), mm("6.74"))
