"""Mitred lengths, gaps and turning; inch and millimetre twins of one corner."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.mitre import Mitre, MitredPiece, MitrePlane, MitrePoint, MitreSection
from nesting.errors import ProblemError
from nesting.takeoff.mitres import (
    chain_length,
    end_extra,
    lies,
    lit_length,
    mitre_angle,
    mitred_length,
    neighbour_gap,
    saw_take,
    slope_mark,
    slopes,
    solver_length,
    tip_length,
    turned,
)
from nesting.units import NM_PER_MM, Length, inches, mm

FLAT = MitreSection(width=mm(30), symmetric=True)
STANDING = MitreSection(width=mm(20), symmetric=True, plane=MitrePlane.STANDING)
ASYMMETRIC = MitreSection(width=mm(30), symmetric=False)
KERF = mm(3)
F0, F45 = Fraction(0), Fraction(45)
HALF = Fraction(45, 2)
RIGHT_ANGLE = Mitre(F45)


def trapezoid(long_point: Length, section: MitreSection = FLAT) -> MitredPiece:
    """Give a piece with two inside right-angled corners, by its long point."""
    left, right = slopes(RIGHT_ANGLE, RIGHT_ANGLE)
    centre = mitred_length(
        long_point, MitrePoint.LONG, MitrePoint.CENTRE, width=section.width, left=left, right=right
    )
    return MitredPiece(id="t", centre=centre, left=left, right=right)


def rounded(length: int, places: int) -> Fraction:
    """Give millimetres to so many places, half up."""
    return Fraction(round(Fraction(length * 10**places, NM_PER_MM)), 10**places)


@pytest.mark.parametrize(("corner", "mitre"), [(90, F45), (135, HALF), (180, F0), (60, Fraction(60))])
def test_a_corner_is_halved(corner: int, mitre: Fraction) -> None:
    """A corner of theta takes mu = 90 - theta/2; straight on needs no mitre."""
    assert mitre_angle(Fraction(corner)) == mitre


@pytest.mark.parametrize("corner", [0, -90, 181])
def test_impossible_corners_are_refused(corner: int) -> None:
    """A fold back on itself or a reflex angle is a mistyped corner."""
    with pytest.raises(ProblemError, match="corner"):
        mitre_angle(Fraction(corner))


def test_slopes_follow_the_corner() -> None:
    r"""Inside corners lean inward like ``/ \``, outside corners outward; None is square."""
    outside = Mitre(F45, outside=True)
    assert slopes(RIGHT_ANGLE, RIGHT_ANGLE) == (F45, -F45)
    assert slopes(outside, outside) == (-F45, F45)
    assert slopes(None, RIGHT_ANGLE) == (F0, -F45)
    assert slopes(RIGHT_ANGLE, None) == (F45, F0)


def test_marks_show_the_slope() -> None:
    """The sheet shows which way the blade is turned."""
    assert [slope_mark(slope) for slope in (F45, F0, -F45)] == ["/", "|", "\\"]


@pytest.mark.parametrize(
    ("kerf", "slope", "take", "places"),
    [
        (mm(3), F45, Fraction("4.243"), 3),
        (mm(3), -F45, Fraction("4.243"), 3),
        (mm(3), HALF, Fraction("3.247"), 3),
        (mm(3), F0, Fraction(3), 3),
        (mm(3), Fraction(60), Fraction(6), 3),
    ],
)
def test_the_saw_takes_more_at_a_slope(kerf: Length, slope: Fraction, take: Fraction, places: int) -> None:
    """K / cos mu along the bar."""
    assert rounded(saw_take(kerf, slope), places) == take


def test_the_saw_takes_more_at_a_slope_in_inches() -> None:
    """1/8 / cos 45 = 0.1768 in, and the nanometre goes up: 3.175 mm x 1.41421356... = 4.490128060...."""
    assert round(Fraction(saw_take(inches("1/8"), F45), inches(1)), 4) == Fraction("0.1768")
    assert saw_take(inches("1/8"), F45) == 4_490_129  # 4490128.06 up


def test_long_short_and_centre_of_a_trapezoid() -> None:
    """600 long point, two ends of 30 x 45 degrees inward: 570 centre line, 540 short point."""
    along = {"width": mm(30), "left": F45, "right": -F45}
    assert mitred_length(mm(600), MitrePoint.LONG, MitrePoint.CENTRE, **along) == mm(570)  # type: ignore[arg-type]
    assert mitred_length(mm(600), MitrePoint.LONG, MitrePoint.SHORT, **along) == mm(540)  # type: ignore[arg-type]
    assert mitred_length(mm(540), MitrePoint.SHORT, MitrePoint.LONG, **along) == mm(600)  # type: ignore[arg-type]
    assert mitred_length(mm(570), MitrePoint.CENTRE, MitrePoint.LONG, **along) == mm(600)  # type: ignore[arg-type]


def test_parallel_faces_have_one_length() -> None:
    """A parallelogram has no long point: both edges are as long as its middle."""
    length = mitred_length(mm(600), MitrePoint.LONG, MitrePoint.SHORT, width=mm(30), left=HALF, right=HALF)
    assert length == mm(600)


def test_irrational_lengths_round_up_by_less_than_a_nanometre() -> None:
    """30/2 (tan 22.5) = 6.2132034355...: the centre of 600 is 593.78679656..., up to ...565."""
    centre = mitred_length(mm(600), MitrePoint.LONG, MitrePoint.CENTRE, width=mm(30), left=F0, right=-HALF)
    assert centre == 593_786_797  # 593786796.56 up


def test_strip_ends_at_the_short_point() -> None:
    """2839 less 30 and a clearance of 5 is 2804; irrational room is rounded down, or strip would jam."""
    assert lit_length(mm(2839), width=mm(30), left=F0, right=-F45, clearance=mm(5)) == mm(2804)
    # 600 - 12.42640687... = 587.57359312...
    assert lit_length(mm(600), width=mm(30), left=F0, right=-HALF) == 587_573_593


PAIRS = [(45, 45), (45, -45), (0, 45), (-45, 0), (22.5, 45), (22.5, -45), (-22.5, -22.5), (30, -15)]


@pytest.mark.parametrize(("end", "start"), PAIRS)
def test_the_gap_keeps_both_strokes_off_the_other_piece(end: float, start: float) -> None:
    """Geometry by brute force: over the whole width each stroke's far side stays clear, and only just."""
    gap = neighbour_gap(FLAT, KERF, Fraction(end), Fraction(start)) / NM_PER_MM
    across = [y / 10 for y in range(-150, 151)]
    between = [gap + y * tan(radians(start)) - y * tan(radians(end)) for y in across]
    strokes = (3 / cos(radians(end)), 3 / cos(radians(start)))
    assert min(between) >= max(strokes) - 1e-9
    assert min(between) <= max(strokes) + 1e-5  # rounded up by a nanometre at most


def test_equal_slopes_share_a_stroke_and_unequal_ones_drop_a_wedge() -> None:
    """Shared 4.243; opposite 30 + 4.243."""
    assert rounded(neighbour_gap(FLAT, KERF, F45, F45), 3) == Fraction("4.243")
    assert rounded(neighbour_gap(FLAT, KERF, -F45, F45), 3) == Fraction("34.243")
    assert neighbour_gap(FLAT, KERF, F0, F0) == KERF


def test_a_flat_mitre_keeps_its_slope_class_when_turned() -> None:
    """(0, -45) lies as (-45, 0): only legs of its own class can share its cut."""
    assert turned((F0, -F45), FLAT) == (-F45, F0)
    assert turned((F45, -F45), FLAT) == (-F45, F45)


def test_a_standing_mitre_changes_its_slope_when_turned() -> None:
    """(0, -45) lies as (45, 0)."""
    assert turned((F0, -F45), STANDING) == (F45, F0)


def test_an_asymmetric_section_is_never_turned() -> None:
    """It would become the other hand."""
    assert turned((F0, -F45), ASYMMETRIC) is None
    piece = MitredPiece(id="x", centre=mm(500), right=-F45)
    assert lies(piece, ASYMMETRIC, turn=False) == (F0, -F45)
    with pytest.raises(ProblemError, match="never turned"):
        lies(piece, ASYMMETRIC, turn=True)
    with pytest.raises(ProblemError, match="never turned"):
        chain_length((piece, piece), (False, True), ASYMMETRIC, KERF)


LEG_1 = MitredPiece(id="leg 1", centre=mm(2824), right=-F45)  # 2839 - 15
LEG_2 = MitredPiece(id="leg 2", centre=mm(1944), left=F45)  # 1959 - 15
LEG_2_MIRRORED = MitredPiece(id="leg 2 R", centre=mm(1944), right=-F45)


def test_three_trapezoids_turned_save_60() -> None:
    """3 x 570 + 2 x 4.243 + 30 = 1748.49 turned; same way 1808.49."""
    three = [trapezoid(mm(600))] * 3
    every_second = chain_length(three, (False, True, False), FLAT, KERF)
    same_way = chain_length(three, (False, False, False), FLAT, KERF)
    assert rounded(every_second, 2) == Fraction("1748.49")
    assert rounded(same_way, 2) == Fraction("1808.49")
    assert same_way - every_second == mm(60)


def laid_by_hand(pieces: int, *, turn: bool, long_point: float, width: float, kerf: float) -> float:
    """Lay 45-degree trapezoids by their outlines, each as close as the stroke allows, in plain geometry."""
    across = [width * (i / 100 - 0.5) for i in range(101)]
    take = kerf / cos(radians(45))
    lefts = [[y + width / 2 for y in across], [-y + width / 2 for y in across]]
    edges: list[float] = []
    at = 0.0
    for number in range(pieces):
        way = number % 2 if turn else 0
        left = lefts[way]
        right = [long_point - x for x in left]
        if edges:
            at = max(edge + take - x for edge, x in zip(edges, left, strict=True))
        edges = [at + x for x in right]
    return max(edges)


@pytest.mark.parametrize(("turn", "inch"), [(True, "69.854"), (False, "72.354")])
def test_three_trapezoids_in_inches(turn: bool, inch: str) -> None:
    """3 x (24 - 1 1/4) + 2 x 0.177 + 1 1/4 = 69.854 turned, 2 1/2 more same way: the width counts once."""
    section = MitreSection(width=inches("1 1/4"), symmetric=True)
    three = [trapezoid(inches(24), section)] * 3
    length = chain_length(three, (False, turn, False), section, inches("1/8"))
    assert round(Fraction(length, inches(1)), 3) == Fraction(inch)
    by_hand = laid_by_hand(3, turn=turn, long_point=24, width=1.25, kerf=0.125)
    assert float(Fraction(length, inches(1))) == pytest.approx(by_hand, abs=1e-7)


@pytest.mark.parametrize("turn", [True, False])
def test_three_trapezoids_lie_as_drawn(turn: bool) -> None:
    """1748.49 and 1808.49 again from the outlines alone."""
    length = chain_length([trapezoid(mm(600))] * 3, (False, turn, False), FLAT, KERF)
    by_hand = laid_by_hand(3, turn=turn, long_point=600, width=30, kerf=3)
    assert length / NM_PER_MM == pytest.approx(by_hand, abs=1e-5)


def test_a_pair_of_legs_by_unit_and_across_units() -> None:
    """2824 + 1944 + 34.243 = 4802.24 of one unit; with the mirrored unit's leg turned, 4772.24."""
    own = chain_length((LEG_1, LEG_2), (False, False), FLAT, KERF)
    across = chain_length((LEG_1, LEG_2_MIRRORED), (False, True), FLAT, KERF)
    assert rounded(own, 2) == Fraction("4802.24")
    assert rounded(across, 2) == Fraction("4772.24")


def test_a_chain_needs_a_piece() -> None:
    """An empty bar is no chain of length 0."""
    with pytest.raises(ProblemError, match="needs a piece"):
        chain_length((), (), FLAT, KERF)


def test_tips_and_extra_kerf_of_a_bar_end() -> None:
    """Half the width stands out at 45 degrees, and the stroke takes 1.243 more than a square one."""
    assert tip_length(FLAT, -F45) == mm(15)
    assert tip_length(FLAT, F0) == 0
    assert rounded(end_extra(KERF, F45), 3) == Fraction("1.243")
    assert end_extra(KERF, F0) == 0


ANGLES = st.sampled_from([F0, F45, -F45, HALF, -HALF, Fraction(30), Fraction(-10)])
PIECES = st.builds(
    MitredPiece,
    id=st.just("p"),
    centre=st.integers(min_value=10**8, max_value=10**9).map(Length),
    left=ANGLES,
    right=ANGLES,
)


@given(st.lists(PIECES, min_size=1, max_size=5))
def test_pieces_nested_by_solver_length_always_have_room(pieces: list[MitredPiece]) -> None:
    """Nested like square pieces with a square kerf, any order must hold the real chain and its ends."""
    nested = sum(
        solver_length(chain_length((p,), (False,), FLAT, KERF), p.left, p.right, KERF) for p in pieces
    ) + KERF * (len(pieces) - 1)
    real = chain_length(pieces, [False] * len(pieces), FLAT, KERF)
    assert real + end_extra(KERF, pieces[0].left) + end_extra(KERF, pieces[-1].right) <= nested


def test_a_square_piece_is_nested_as_it_is() -> None:
    """Square chains must not pay for mitres."""
    assert solver_length(mm(600), F0, F0, KERF) == mm(600)
    assert rounded(solver_length(mm(600), F45, F0, KERF), 3) == Fraction("601.243")


@pytest.mark.parametrize("angle", [Fraction(-1), Fraction(81)])
def test_a_mitre_lies_within_reach_of_a_saw(angle: Fraction) -> None:
    """The side of the corner gives the sign, never the angle."""
    with pytest.raises(ProblemError, match="mitre angle"):
        Mitre(angle)


def test_impossible_pieces_and_sections_are_refused() -> None:
    """No length, a face past the saw's reach, no width."""
    with pytest.raises(ProblemError, match="more than zero"):
        MitredPiece(id="x", centre=mm(0))
    with pytest.raises(ProblemError, match="steeper"):
        MitredPiece(id="x", centre=mm(10), left=Fraction(-81))
    with pytest.raises(ProblemError, match="width"):
        MitreSection(width=mm(0), symmetric=True)
