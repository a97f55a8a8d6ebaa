"""A mitred run gives the same piece however it was measured, with cover, strip and lead to match."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.domain.electrics import Feed
from nesting.domain.material import CapStyle, CoverMode, Family
from nesting.domain.mitre import SQUARE, Mitre, MitrePlane, MitreSection
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.takeoff.mitred_run import bar_needed, lit_ends, mitre_section, mitred_run
from nesting.takeoff.run_strip import fit_of
from nesting.takeoff.sections import NotMade
from nesting.units import Length, mm

F45 = Fraction(45)
FAMILY = Family(
    name="Q",
    cap_thickness=mm(1),
    width=mm(30),
    height=mm(20),
    strip_pitch=Fraction(mm(50)),
    strip_feed=mm(20),
    strip_tail=mm(3),
)
LEG = Run(
    job="J",
    id="7",
    family="Q",
    length=mm(2840),
    kind=LengthKind.LONG_POINT,
    left=EndCondition.HOLED_CAP,
    right=EndCondition.MITRE,
    mitre_right=Mitre(F45),
)
REQUEST = Request(families=(FAMILY,), saw=DEFAULT_SAW)
FLAT = MitreSection(width=mm(30), symmetric=True)


@pytest.mark.parametrize(
    ("kind", "given"),
    [
        # Long point 2840 less 1 mm of cap is 2839, its centre line 15 less; the short point 30 less.
        (LengthKind.LONG_POINT, 2840),
        (LengthKind.FINISHED, 2840),
        (LengthKind.CENTRE_LINE, 2825),
        (LengthKind.SHORT_POINT, 2810),
        (LengthKind.CHANNEL, 2839),
    ],
)
def test_every_way_of_measuring_gives_the_same_piece(kind: LengthKind, given: int) -> None:
    """The measurer says along which line he measured, the saw gets the long point."""
    made = mitred_run(replace(LEG, kind=kind, length=mm(given)), FAMILY, REQUEST, None)
    assert (made.long_point, made.length, made.exact) == (mm(2839), mm(2824), mm(2824))
    assert (made.left, made.right) == (SQUARE, -F45)


def test_a_standing_mitre_goes_by_the_height() -> None:
    """A section of 20 high loses 10 to its centre line."""
    standing = replace(LEG, mitre_right=Mitre(F45, plane=MitrePlane.STANDING))
    assert mitred_run(standing, FAMILY, REQUEST, None).length == mm(2829)


def test_covers_follow_with_their_noses_and_play() -> None:
    """Nose 6 at the one cap: the cover's long point is 2833 cut together, 2831 with 2 mm of play."""
    nosed = replace(FAMILY, cap_style=CapStyle.NOSE, nose=mm(6), cover_mode=CoverMode.OFFSET)
    assert mitred_run(LEG, nosed, REQUEST, None).cover == mm(2833)
    separate = replace(nosed, cover_mode=CoverMode.SEPARATE, cover_play=mm(2))
    made = mitred_run(LEG, separate, REQUEST, None)
    assert (made.cover, made.cover_length) == (mm(2831), mm(2816))


@pytest.mark.parametrize(
    ("run", "family", "longest", "code"),
    [
        (LEG, replace(FAMILY, width=mm(0)), None, "section-unknown"),
        (replace(LEG, kind=LengthKind.OPENING), FAMILY, None, "mitre-in-opening"),
        (LEG, FAMILY, 2840, "too-long"),
        (replace(LEG, length=mm(16)), FAMILY, None, "caps-meet"),
        (replace(LEG, length=mm(1)), FAMILY, None, "no-length"),
    ],
)
def test_what_cannot_be_made_says_why(run: Run, family: Family, longest: int | None, code: str) -> None:
    """Nobody guesses a width, and a mitred run is not divided."""
    with pytest.raises(NotMade) as why:
        mitred_run(run, family, REQUEST, None if longest is None else mm(longest))
    assert why.value.code == code


def test_what_one_piece_takes_of_a_bar() -> None:
    """Tip to tip 2839, and 3 (sqrt 2 - 1) = 1.242641 mm of kerf more at the sloped end."""
    assert bar_needed(mm(2824), FLAT, SQUARE, -F45, mm(3)) == 2_840_242_641


def test_the_section_in_a_plane() -> None:
    """Unknown sizes are not taken for nothing."""
    assert mitre_section(FAMILY, MitrePlane.FLAT) == FLAT
    assert mitre_section(replace(FAMILY, height=mm(0)), MitrePlane.STANDING) is None


def test_strip_stops_at_the_short_point_unless_its_own_width_is_known() -> None:
    """Short point 2809 - 23 hold 55 marks; 8 mm wide it needs 4 mm at the corner: 2824 - 24 hold 56."""
    assert fit_of(LEG, FAMILY, mm(2839)).marks == 55
    narrow = replace(FAMILY, strip_width=mm(8))
    assert fit_of(LEG, narrow, mm(2839)).marks == 56
    assert lit_ends(LEG, narrow) == (mm(20), mm(4))
    # One nanometre less and the 56th mark does not fit; 2889 gains a mark: 50 mm more.
    assert fit_of(LEG, narrow, Length(mm(2839) - 1)).marks == 55
    assert fit_of(LEG, narrow, mm(2839)).for_next_mark == mm(2889)


@pytest.mark.parametrize(
    ("run", "ends"),
    [
        (LEG, (20, 4)),
        (replace(LEG, left=EndCondition.SOLID_CAP), (3, 20)),
        (replace(LEG, left=EndCondition.SOLID_CAP, feed=Feed.LEFT), (20, 4)),
        (
            replace(
                LEG,
                left=EndCondition.MITRE,
                mitre_left=Mitre(F45),
                right=EndCondition.HOLED_CAP,
                mitre_right=None,
            ),
            (4, 20),
        ),
    ],
)
def test_the_lead_comes_in_at_the_fed_end_or_through_the_corner(run: Run, ends: tuple[int, int]) -> None:
    """A leg without a lead of its own is fed by the bridge at its corner."""
    assert lit_ends(run, replace(FAMILY, strip_width=mm(8))) == (mm(ends[0]), mm(ends[1]))
