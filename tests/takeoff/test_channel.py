"""From measured size to channel length, in inches and in millimetres."""

from __future__ import annotations

import pytest

from nesting.domain.runs import LengthKind
from nesting.takeoff.channel import channel_length, finished_length
from nesting.units import Length, inches, mm


@pytest.mark.parametrize(
    ("opening", "clearance", "finished"),
    [(inches("36 1/4"), inches("1/16"), inches("36 1/8")), (mm(921), mm("1.5"), mm(918))],
)
def test_an_opening_loses_its_clearances(opening: Length, clearance: Length, finished: Length) -> None:
    """A fixture goes into its opening with the clearance free at each end."""
    made = finished_length(opening, LengthKind.OPENING, clearance_left=clearance, clearance_right=clearance)
    assert made == finished


def test_unequal_clearances_both_count() -> None:
    """Each end has its own clearance: 921 - 1 - 3 = 917."""
    made = finished_length(mm(921), LengthKind.OPENING, clearance_left=mm(1), clearance_right=mm(3))
    assert made == mm(917)


@pytest.mark.parametrize("kind", [LengthKind.FINISHED, LengthKind.CHANNEL])
def test_other_sizes_keep_their_length(kind: LengthKind) -> None:
    """Clearance is for openings; a finished or channel size is already the fixture's own."""
    assert finished_length(mm(918), kind, clearance_left=mm(2), clearance_right=mm(2)) == mm(918)


@pytest.mark.parametrize(
    ("finished", "cap", "channel"),
    [(inches("36 1/8"), inches("1/16"), inches(36)), (mm(918), mm("1.5"), mm(915))],
)
def test_caps_take_their_thickness_off_the_channel(finished: Length, cap: Length, channel: Length) -> None:
    """Channel and two caps together are as long as the fixture."""
    assert channel_length(finished, cap_left=cap, cap_right=cap) == channel


def test_a_capless_end_takes_nothing_off() -> None:
    """At a joint or a bare end only the other cap counts: 918 - 1.5 = 916.5."""
    assert channel_length(mm(918), cap_left=mm("1.5"), cap_right=Length(0)) == mm("916.5")
