"""Circuits on cut marks."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.domain.electrics import PLANNING_AID, Feed
from nesting.errors import NOWHERE, Finding, ProblemError
from nesting.takeoff.circuits import circuit_advice, circuits_of
from nesting.units import NM_PER_MM, Length, mm

PITCH = Fraction(mm(50))


def advice(marks: int, feed: Feed) -> Finding | None:
    """Ask for a strip that may be 5 m long from one end and 8 m from both."""
    return circuit_advice("r", marks, PITCH, feed=feed, one_end=mm(5000), both_ends=mm(8000), where=NOWHERE)


@pytest.mark.parametrize(
    ("marks", "longest", "circuits"),
    [
        (100, mm(5000), (100,)),  # exactly the longest
        (101, mm(5000), (51, 50)),
        (250, mm(5000), (84, 83, 83)),
        # 7.5 m over 2.52 m would be 3 by length, but only 50 marks fit into 2.52: 150 / 50 = 3
        (150, mm(2520), (50, 50, 50)),
        # 10 m over 5.02 is 1.99 circuits and stays 2; over 4.98 m only 99 marks fit: 3
        (200, mm(5020), (100, 100)),
        (200, mm(4980), (67, 67, 66)),
        (200, None, (200,)),
        (0, mm(5000), ()),
    ],
)
def test_a_strip_is_divided_on_its_marks(
    marks: int, longest: Length | None, circuits: tuple[int, ...]
) -> None:
    """The fewest circuits, as even as marks allow, none over the longest."""
    assert circuits_of(marks, PITCH, longest) == circuits


def test_an_exact_multiple_of_a_rational_pitch_is_one_circuit() -> None:
    """300 marks of 50/3 mm are 5 m exactly."""
    assert circuits_of(300, Fraction(50, 3) * NM_PER_MM, mm(5000)) == (300,)


def test_a_circuit_needs_a_mark() -> None:
    """A longest circuit of 40 mm over marks of 50 is a mistyped data sheet."""
    with pytest.raises(ProblemError, match="cut marks"):
        circuits_of(10, PITCH, mm(40))


def test_one_circuit_needs_no_advice() -> None:
    """Up to the longest for its way of feeding."""
    assert advice(100, Feed.LEFT) is None
    assert advice(160, Feed.BOTH) is None


def test_feeding_both_ends_is_offered_where_it_reaches() -> None:
    """8 m may be fed from both ends, 8.05 m may not."""
    offered = advice(160, Feed.LEFT)
    beyond = advice(161, Feed.LEFT)
    assert offered is not None
    assert beyond is not None
    assert "into 2 (4 m, 4 m) or feed both ends" in offered.message
    assert "into 2 (4.05 m, 4 m). " in beyond.message
    assert beyond.message.endswith(PLANNING_AID)
