"""Cover joints staggered against channel joints, each pair checked."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.errors import ProblemError
from nesting.takeoff.cover_joints import (
    ChannelJoint,
    channel_joints,
    cover_joints,
    joints_too_near,
    staggered_covers,
)
from nesting.units import Length, mm


def lengths(*millimetres: int | str) -> tuple[Length, ...]:
    """Give lengths in millimetres."""
    return tuple(mm(value) for value in millimetres)


def test_joints_of_channel_and_cover_are_measured_from_the_channel_end() -> None:
    """Channel gaps have two edges; the cover starts behind the left nose."""
    assert channel_joints(lengths(1778, 1778, 1778), mm(2)) == (
        ChannelJoint(mm(1778), mm(1780)),
        ChannelJoint(mm(3558), mm(3560)),
    )
    assert cover_joints(lengths(1000, 1500, 500), mm(8)) == lengths(1008, 2508)
    assert channel_joints(lengths(1778)) == ()
    assert cover_joints(lengths(1778)) == ()


def test_every_pair_is_checked() -> None:
    """The second cover joint is near the first channel joint, not near its own neighbour in the list."""
    channel = channel_joints(lengths(1000, 1000, 1000))
    near = joints_too_near(channel, lengths(500, 1149, 1150, 2500), mm(150))
    assert near == ((channel[0], mm(1149)),)  # 1150 is exactly 150 off, which will do
    gap = channel_joints(lengths(1000, 1000), mm(4))
    assert joints_too_near(gap, lengths(1153, 1154), mm(150)) == ((gap[0], mm(1153)),)


def test_an_even_cover_joint_moves_off_the_channel_joint() -> None:
    """
    The demo's 3606 channel of 2 x 1803, noses 8: an even cover joint at 8 + 1795 meets it exactly.

    It moves 150 to the left: 1645 and 1945.
    """
    covers = staggered_covers(
        mm(3590), channel_joints(lengths(1803, 1803)), apart=mm(150), longest=mm(2484), start=mm(8)
    )
    assert covers == lengths(1645, 1945)


def test_a_gap_in_the_channel_is_cleared_on_both_sides() -> None:
    """1700 + 4 + 1900: even would be 1802; from 1854 on, 150 behind the joint's far edge, it may meet."""
    joints = channel_joints(lengths(1700, 1900), mm(4))
    covers = staggered_covers(mm(3604), joints, apart=mm(150), longest=mm(2484))
    assert covers == lengths(1854, 1750)


def test_cover_from_a_coil_has_no_joint() -> None:
    """Nor has one that a bar yields whole."""
    joints = channel_joints(lengths(1803, 1803))
    assert staggered_covers(mm(3590), joints, apart=mm(150), longest=None) == (mm(3590),)
    assert staggered_covers(mm(3590), joints, apart=mm(150), longest=mm(3590)) == (mm(3590),)


def test_a_cover_without_channel_joints_is_divided_evenly() -> None:
    """Three pieces of at most 2484 from 5334, in whole millimetres; nothing is in the way."""
    assert staggered_covers(mm(5334), (), apart=mm(150), longest=mm(2484), step=mm(1)) == lengths(
        1778, 1778, 1778
    )


def test_steps_leave_their_rest_to_the_last_piece() -> None:
    """1000.3 in halves of whole millimetres: 500 and 500.3."""
    covers = staggered_covers(mm("1000.3"), (), apart=mm(0), longest=mm(600), step=mm(1))
    assert covers == lengths(500, "500.3")


def test_one_more_piece_where_the_fewest_will_not_go() -> None:
    """1000 of 500 at most would meet at 500, where the channel does; three pieces keep off."""
    covers = staggered_covers(
        mm(1000), channel_joints(lengths(500, 500)), apart=mm(50), longest=mm(500), step=mm(1)
    )
    assert len(covers) == 3
    assert covers == lengths(333, 333, 334)


@pytest.mark.parametrize(
    ("longest", "shortest"),
    [(290, 0), (500, 501)],  # a blocked stretch of 300 wider than a piece; no length between them
)
def test_an_impossible_division_is_refused(longest: int, shortest: int) -> None:
    """Never a cover joint beside a channel joint, and never an endless search."""
    with pytest.raises(ProblemError, match="distance"):
        staggered_covers(
            mm(2000),
            channel_joints(lengths(1000, 1000)),
            apart=mm(150),
            longest=mm(longest),
            shortest=mm(shortest),
        )


@settings(max_examples=150, deadline=None)
@given(
    total=st.integers(20, 60),
    sections=st.lists(st.integers(3, 20), min_size=1, max_size=4),
    apart=st.integers(0, 5),
    longest=st.integers(5, 25),
    gap=st.integers(0, 3),
    shortest=st.integers(1, 4),
    start=st.integers(0, 3),
)
def test_the_fewest_pieces_are_found(
    total: int, sections: list[int], apart: int, longest: int, gap: int, shortest: int, start: int
) -> None:
    """Every choice of joints on whole steps is tried; distances and lengths are kept."""
    joints = channel_joints([Length(section) for section in sections], Length(gap))

    def allowed(places: tuple[int, ...]) -> bool:
        edges = (0, *places, total)
        covers = [Length(b - a) for a, b in pairwise(edges)]
        return all(shortest <= cover <= longest for cover in covers) and not joints_too_near(
            joints, cover_joints(covers, Length(start)), Length(apart)
        )

    try:
        covers = staggered_covers(
            Length(total),
            joints,
            apart=Length(apart),
            longest=Length(longest),
            shortest=Length(shortest),
            start=Length(start),
        )
    except ProblemError:
        assert not any(allowed(places) for n in (1, 2, 3) for places in combinations(range(1, total), n))
        return
    assert sum(covers) == total
    if total > longest:
        places = tuple(at - start for at in cover_joints(covers, Length(start)))
        assert allowed(places)
        if len(places) <= 3:  # more joints than that are too many to try
            assert not any(allowed(p) for p in combinations(range(1, total), len(places) - 1))
