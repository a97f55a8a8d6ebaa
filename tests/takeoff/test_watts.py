"""Watts, drivers and the limits of a limited-power source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.domain.electrics import PLANNING_AID, Feed, StripKind
from nesting.errors import NOWHERE, ProblemError, Severity
from nesting.takeoff import take_off
from nesting.takeoff.figures import figure
from nesting.takeoff.watts import (
    CLASS_2_WATTS,
    LOADING,
    DriverZone,
    driver_advice,
    driver_watts,
    driver_zones,
    longest_strip,
    strip_watts,
)
from nesting.units import NM_PER_MM, Length, mm
from tests.takeoff.demo_building import building

Q = Fraction("14.4")
KIND = StripKind(name="warm", pitch=Fraction(mm(50)), watts_per_metre=Q, volts=Fraction(24))


def test_850_of_strip_asks_for_a_driver_of_15_3() -> None:
    """0.85 x 14.4 = 12.24 W; / 0.8 = 15.3 W."""
    load = strip_watts(mm(850), Q)
    assert load == Fraction("12.24")
    assert driver_watts(load) == Fraction("15.3")


def test_eighty_per_cent_loading_is_a_quarter_more() -> None:
    """48 W ask for 60 W, not for the 57.6 W that 20 % more would be."""
    assert driver_watts(Fraction(48)) == 60


@pytest.mark.parametrize(
    ("volts", "loading", "metres"),
    [(24, 1, "6.67"), (24, LOADING, "5.33"), (12, 1, "4.17"), (12, LOADING, "3.33")],
)
def test_what_a_class_2_source_carries(volts: int, loading: Fraction | int, metres: str) -> None:
    """96 W at 24 V and 60 W at 12 V over 14.4 W/m, in full and at 80 %."""
    longest = longest_strip(CLASS_2_WATTS[Fraction(volts)], Q, Fraction(loading))
    assert figure(Fraction(longest, 1000 * NM_PER_MM), "m") == f"{metres} m"
    assert strip_watts(longest, Q) <= CLASS_2_WATTS[Fraction(volts)] * loading
    assert strip_watts(Length(longest + 1), Q) > CLASS_2_WATTS[Fraction(volts)] * loading


def test_the_demo_building_lights_449_5_metres() -> None:
    """All runs taken off whole, coves to their long point; 9.6 W/m make 4315 W."""
    strip = Length(sum(cut.length * cut.quantity for cut in take_off(building()).strips))
    assert strip == mm(449_500)
    assert figure(strip_watts(strip, Fraction("9.6")), "W", 0) == "4315 W"


def test_circuits_share_outputs_without_exceeding_them() -> None:
    """60 W at 80 % carry 48: 30 + 18 and 20 + 20, largest first."""
    loads = [Fraction(20), Fraction(30), Fraction(18), Fraction(20)]
    assert driver_zones(loads, Fraction(60)) == (
        DriverZone((1, 2), Fraction(48)),
        DriverZone((0, 3), Fraction(40)),
    )


def test_a_circuit_too_large_for_an_output_is_refused() -> None:
    """It must be divided, never put on two outputs in parallel."""
    with pytest.raises(ProblemError, match=r"50 W.*48 W"):
        driver_zones([Fraction(50)], Fraction(60))


def test_advice_always_carries_its_caution() -> None:
    """A note within the limit, with both figures."""
    note = driver_advice("OY-1", mm(850), KIND, NOWHERE)
    assert note.severity is Severity.NOTE
    assert "12.24 W" in note.message
    assert "15.3 W" in note.message
    assert note.message.endswith(PLANNING_AID)


def test_past_the_limit_the_advice_is_a_warning() -> None:
    """5.34 m at 14.4 W/m ask for 96.12 W; 5.33 m, 95.94 W, do not."""
    assert driver_advice("r", mm(5330), KIND, NOWHERE).severity is Severity.NOTE
    warning = driver_advice("r", mm(5340), KIND, NOWHERE)
    assert warning.code == "class-2-exceeded"
    assert "carries 5.33 m" in warning.message
    assert warning.message.endswith(PLANNING_AID)


def test_a_strip_kind_knows_its_longest_circuit_by_feed() -> None:
    """Both ends fed reach further; through-feed and back exit feed one end."""
    kind = StripKind(
        name="warm",
        pitch=Fraction(mm(50)),
        watts_per_metre=Q,
        volts=Fraction(24),
        longest_one_end=mm(5000),
        longest_both_ends=mm(10_000),
    )
    assert {feed: kind.longest(feed) for feed in Feed} == {
        Feed.LEFT: mm(5000),
        Feed.RIGHT: mm(5000),
        Feed.BACK: mm(5000),
        Feed.THROUGH: mm(5000),
        Feed.BOTH: mm(10_000),
    }


@pytest.mark.parametrize(
    "wrong",
    [{"pitch": Fraction(0)}, {"volts": Fraction(0)}, {"watts_per_metre": Fraction(-1)}, {"reel": mm(0)}],
)
def test_impossible_strips_are_refused(wrong: dict[str, Fraction]) -> None:
    """A division by nothing later on would name no strip."""
    fine = {"name": "s", "pitch": Fraction(1), "watts_per_metre": Q, "volts": Fraction(24)}
    with pytest.raises(ProblemError, match="Strip 's'"):
        StripKind(**(fine | wrong))  # type: ignore[arg-type]
