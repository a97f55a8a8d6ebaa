"""What counts of a mitred piece."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.mitre import Mitre, MitrePlane
from nesting.planning.mitred import kind_length, kind_of, nested_length, section_of, widest_stroke
from nesting.units import Length, mm
from tests.planning.mitred_shop import F45, group_of, leg


def test_centre_lines_are_rounded_down_and_square_lengths_never() -> None:
    """A bound may not rise by rounding: 1000.123456 long point is 985.123456 on the line, 985.12 nested."""
    (mitred,) = group_of(leg("a", "1000.123456", right=Mitre(F45))).pieces
    (square,) = group_of(leg("s", "600.123456")).pieces
    assert mitred.length == mm("985.123456")
    assert nested_length(mitred) == mm("985.12")
    assert nested_length(square) == mm("600.123456")


def test_a_piece_and_its_turned_twin_are_of_one_kind() -> None:
    """Where the section may be turned, right and left make no difference; handed or standing they do."""
    group = group_of(leg("a", "1000", right=Mitre(F45)), leg("b", "1000", left=Mitre(F45)))
    right, left = group.pieces
    flat = section_of(group)
    # The twin of (0, -45) is (-45, 0); the leg with its corner on the left has (45, 0), the other slope.
    twin = replace(left, slope_left=-left.slope_left)
    assert kind_of(right, flat) == kind_of(twin, flat) != kind_of(left, flat)
    assert kind_length(kind_of(right, flat)) == nested_length(right)
    assert kind_of(right, replace(flat, symmetric=False)) != kind_of(twin, replace(flat, symmetric=False))
    standing = replace(flat, plane=MitrePlane.STANDING)
    # Standing, (0, -45) turned is (45, 0).
    assert kind_of(right, standing) == kind_of(left, standing) != kind_of(twin, standing)


def test_the_widest_stroke_is_the_steepest() -> None:
    """3 mm along the bar behind a square end, 3 sqrt 2 = 4.242641 rounded up behind 45 degrees."""
    square = group_of(leg("s", "600")).pieces
    mitred = group_of(leg("a", "1000", right=Mitre(F45))).pieces
    assert widest_stroke(square, mm(3)) == mm(3)
    assert widest_stroke([*square, *mitred], mm(3)) == Length(4_242_641)


def test_a_square_group_has_no_section() -> None:
    """Asking for it is a mistake of ours and must not go unseen."""
    with pytest.raises(ValueError, match="no mitred pieces"):
        section_of(group_of(leg("s", "600")))
