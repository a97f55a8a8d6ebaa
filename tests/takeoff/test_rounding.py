"""Which way a length goes to the saw's step."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.runs import LengthKind
from nesting.takeoff.rounding import round_down, round_nearest, sawn_channel, sawn_cover
from nesting.units import Length, inches, mm

SIXTEENTH = inches("1/16")


@pytest.mark.parametrize(
    ("exact", "step", "down", "nearest"),
    [
        (mm("915.4"), mm(1), mm(915), mm(915)),
        (mm("915.5"), mm(1), mm(915), mm(916)),  # half a step goes up
        (mm("915.75"), mm("0.5"), mm("915.5"), mm(916)),
        (inches("36 5/64"), SIXTEENTH, inches("36 1/16"), inches("36 1/16")),  # 5/64 = 1.25/16
        (inches("36 3/32"), SIXTEENTH, inches("36 1/16"), inches("36 1/8")),  # 3/32 = 1.5/16
        (mm("915.123456"), Length(0), mm("915.123456"), mm("915.123456")),
    ],
)
def test_rounding_to_the_step(exact: Length, step: Length, down: Length, nearest: Length) -> None:
    """Down never exceeds the exact length, nearest takes half a step up, step 0 changes nothing."""
    assert round_down(exact, step) == down
    assert round_nearest(exact, step) == nearest


@pytest.mark.parametrize(
    ("kind", "sawn"),
    [(LengthKind.OPENING, mm(915)), (LengthKind.FINISHED, mm(916)), (LengthKind.CHANNEL, mm(916))],
)
def test_only_channels_for_openings_round_down(kind: LengthKind, sawn: Length) -> None:
    """A fixture too long for its opening does not go in; other sizes go to the nearest step."""
    assert sawn_channel(mm("915.7"), kind, mm(1)) == sawn


def test_covers_round_down() -> None:
    """A cover goes between two caps that do not give way."""
    assert sawn_cover(mm("896.9"), mm(1)) == mm(896)


@given(st.integers(1, 10**12), st.integers(1, 10**8))
def test_rounded_lengths_are_on_the_step_and_near(length: int, step: int) -> None:
    """A rounded length can be set on the saw, less than a step below or at most half a step away."""
    down, nearest = round_down(Length(length), Length(step)), round_nearest(Length(length), Length(step))
    assert down % step == nearest % step == 0
    assert 0 <= length - down < step
    assert 2 * abs(nearest - length) <= step
