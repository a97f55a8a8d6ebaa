"""The cover between its caps, in inches and in millimetres."""

from __future__ import annotations

import pytest

from nesting.takeoff.cover import caps_meet, cover_length
from nesting.units import Length, inches, mm

NONE = Length(0)


@pytest.mark.parametrize(
    ("channel", "nose", "cover"),
    [
        (inches(36), inches("3/8"), inches("35 1/4")),
        (mm(915), mm("9.5"), mm(896)),
        # Two 3/8 in noses in a 10 in channel (common practice, no source).
        (inches(10), inches("3/8"), inches("9 1/4")),
    ],
)
def test_two_noses_shorten_the_cover(channel: Length, nose: Length, cover: Length) -> None:
    """A cover one nose too long will not go in; both noses count."""
    assert cover_length(channel, nose_left=nose, nose_right=nose) == cover


@pytest.mark.parametrize(
    ("channel", "nose", "cover"),
    [(inches(36), inches("3/8"), inches("35 5/8")), (mm(915), mm("9.5"), mm("905.5"))],
)
def test_one_cap_and_one_joint_take_one_nose(channel: Length, nose: Length, cover: Length) -> None:
    """At a joint the cover runs through to the channel's end."""
    assert cover_length(channel, nose_left=nose, nose_right=NONE) == cover


@pytest.mark.parametrize("channel", [inches(36), mm(915)])
def test_flush_caps_leave_the_cover_as_long_as_the_channel(channel: Length) -> None:
    """Flush caps have no nose: channel and cover are one cut."""
    assert cover_length(channel, nose_left=NONE, nose_right=NONE) == channel


def test_play_is_taken_off_once() -> None:
    """Room for heat belongs to the cover, not to its ends: 915 - 19 - 2 = 894."""
    assert cover_length(mm(915), nose_left=mm("9.5"), nose_right=mm("9.5"), play=mm(2)) == mm(894)


def test_caps_meet_when_no_cover_is_left() -> None:
    """Two 9.5 noses meet in a channel of 19 and leave a nanometre in one a nanometre longer."""
    assert caps_meet(cover_length(mm(19), nose_left=mm("9.5"), nose_right=mm("9.5")))
    assert not caps_meet(cover_length(Length(mm(19) + 1), nose_left=mm("9.5"), nose_right=mm("9.5")))
