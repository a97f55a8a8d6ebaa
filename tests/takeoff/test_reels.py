"""Strip on reels, in whole marks."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.errors import ProblemError
from nesting.planning.reels import pieces_of
from nesting.takeoff import take_off
from nesting.takeoff.reels import cuts_at_solder_joints, marks_on, reel_problem
from nesting.units import NM_PER_MM, NO_LENGTH, mm
from tests.takeoff.demo_building import building

PITCH = Fraction(mm(50))


def test_a_reel_holds_whole_marks() -> None:
    """100 of 50 in 5 m, 300 of 50/3; a rounded pitch would give 299."""
    assert marks_on(mm(5000), PITCH) == 100
    assert marks_on(mm(5000), Fraction(50, 3) * NM_PER_MM) == 300
    assert marks_on(mm(4999), PITCH) == 99


def test_the_problem_is_in_marks_without_kerf() -> None:
    """Scissors take nothing: 50 + 50 fill a reel of 100 exactly."""
    problem = reel_problem((50, 17, 50, 17, 17), 100, name="warm", keep_marks=10)
    assert problem.lengths == (50, 17)
    assert problem.counts == (2, 3)
    assert (problem.kerf, problem.keep_length, problem.bars[0].usable) == (0, 10, 100)
    assert problem.bars[0].count is None


def test_a_piece_longer_than_a_reel_is_refused() -> None:
    """It must be divided first, or it would be soldered together in the channel."""
    with pytest.raises(ProblemError, match="fits no bar"):
        reel_problem((101,), 100)


def test_the_demo_building_fills_at_least_ninety_reels() -> None:
    """449.5 m are 8990 marks; the longest piece is 71, so nothing is divided."""
    pieces = [cut.marks for strip in take_off(building()).strips for cut in pieces_of(strip)]
    problem = reel_problem(pieces, 100)
    marks = sum(length * count for length, count in zip(problem.lengths, problem.counts, strict=True))
    assert marks == sum(pieces) == 8990
    assert len(pieces) == 350
    assert max(pieces) == 71


def test_solderless_connectors_keep_off_solder_joints() -> None:
    """Joints every 500, cuts at 850, 1500 and 2400: the second is on one, the others 150 and 100 off."""
    assert cuts_at_solder_joints((17, 13, 18), PITCH, mm(500), mm(15)) == (30,)
    assert cuts_at_solder_joints((17, 13, 18), PITCH, mm(500), mm(101)) == (30, 48)
    assert cuts_at_solder_joints((9,), PITCH, mm(500), mm(50)) == ()  # 50 off is just clear
    assert cuts_at_solder_joints((9,), PITCH, mm(500), mm(51)) == (9,)


def test_a_cut_on_the_joint_counts_with_any_connector() -> None:
    """Even one that covers nothing meets the joint it is pressed on."""
    assert cuts_at_solder_joints((10,), PITCH, mm(500), NO_LENGTH) == (10,)
