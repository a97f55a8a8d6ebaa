"""Joint sets, adhesive and connectors."""

from __future__ import annotations

import pytest

from nesting.domain.electrics import Feed
from nesting.domain.small_parts import PartCount
from nesting.takeoff import take_off
from nesting.takeoff.joint_sets import adhesive_length, connectors_for, joint_sets_of
from nesting.units import mm
from tests.takeoff.demo_building import building


def test_the_demo_building_has_twelve_joints() -> None:
    """The 3612 openings of the twelve D flats come in two pieces; nothing else is joined."""
    assert joint_sets_of(take_off(building()).pieces) == (PartCount("TOLV-17N", "natural", 12),)


def test_adhesive_follows_the_channel() -> None:
    """Two rows under 915 and 1800 are 5430."""
    assert adhesive_length((mm(915), mm(1800)), 2) == mm(5430)


@pytest.mark.parametrize(
    ("feed", "circuits", "corners", "feeds", "leads"),
    [
        (Feed.LEFT, 1, 0, 1, 2),
        (Feed.BACK, 1, 1, 1, 4),  # a feed and a jumper round the corner
        (Feed.BOTH, 1, 0, 2, 4),
        (Feed.RIGHT, 3, 0, 3, 6),
    ],
)
def test_connectors_are_feeds_and_jumpers(
    feed: Feed, circuits: int, corners: int, feeds: int, leads: int
) -> None:
    """Two leads for each."""
    count = connectors_for(feed, circuits=circuits, corners=corners)
    assert (count.feeds, count.jumpers, count.leads) == (feeds, corners, leads)
    assert count.connectors == feeds + corners
