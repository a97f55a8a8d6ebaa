"""Voltage drop of feed wire and strip."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.domain.electrics import PLANNING_AID
from nesting.errors import NOWHERE, ProblemError, Severity
from nesting.takeoff.figures import figure
from nesting.takeoff.wire import CONDUCTORS, drop_advice, feed_drop
from nesting.units import Length, Unit, mm

FEET_20 = Length(20 * Unit.FOOT.nanometres)


@pytest.mark.parametrize(
    ("wire", "conductor", "volts", "drop", "share"),
    [
        # 2 x 20 ft x 7.95 ohm/kft x 40/24 A = 0.53 V
        (FEET_20, "18 AWG", 24, "0.53 V", "2.2 %"),
        (FEET_20, "18 AWG", 12, "1.06 V", "8.8 %"),
        # 2 x 10 m x 26 ohm/km x 40/24 A = 0.867 V
        (mm(10_000), "0.75 mm2", 24, "0.867 V", "3.6 %"),
    ],
)
def test_forty_watts_drop_along_the_feed(
    wire: Length, conductor: str, volts: int, drop: str, share: str
) -> None:
    """2 l r I; half the voltage, twice the drop and four times the share."""
    found = feed_drop(wire, CONDUCTORS[conductor], Fraction(40, volts))
    assert figure(found, "V", 3) == drop
    assert figure(100 * found / volts, "%", 1) == share


def test_a_gauge_agrees_with_its_resistance_at_twenty_degrees() -> None:
    """
    18 AWG solid is 6.385 ohm/kft at 20 C (NBS Handbook 100, through a wire table).

    Times 1 + 0.00393 x 55 for 75 C that is 7.765; stranding adds 2 to 3 %.
    """
    solid = Fraction("6.385") * (1 + Fraction("0.00393") * 55)
    stranded = CONDUCTORS["18 AWG"] * 1000 * Unit.FOOT.nanometres / 10**9
    assert Fraction("1.02") < stranded / solid < Fraction("1.03")


def test_advice_warns_above_three_per_cent() -> None:
    """2.2 % is a note, 3.6 % a warning; both with the caution."""
    note = drop_advice(
        "r", wire=FEET_20, conductor="18 AWG", watts=Fraction(40), volts=Fraction(24), where=NOWHERE
    )
    warning = drop_advice(
        "r", wire=mm(10_000), conductor="0.75 mm2", watts=Fraction(40), volts=Fraction(24), where=NOWHERE
    )
    assert (note.severity, warning.severity) == (Severity.NOTE, Severity.WARNING)
    assert "drop 0.87 V, 3.6 %" in warning.message
    assert note.message.endswith(PLANNING_AID)
    assert warning.message.endswith(PLANNING_AID)


def test_an_unknown_conductor_is_refused_with_those_known() -> None:
    """A slip in the name must not become a resistance of nothing."""
    with pytest.raises(ProblemError, match=r"'19 AWG'.*18 AWG"):
        drop_advice(
            "r", wire=FEET_20, conductor="19 AWG", watts=Fraction(40), volts=Fraction(24), where=NOWHERE
        )
