"""Clips per channel piece, in millimetres and inches, and for the whole demo building."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.small_parts import ClipRule, PartCount
from nesting.errors import ProblemError
from nesting.takeoff import take_off
from nesting.takeoff.clips import clips_for, clips_of
from nesting.units import Length, inches, mm
from tests.takeoff.demo_building import building

RULE = ClipRule(edge=mm(100), pitch=mm(400))


@pytest.mark.parametrize(
    ("channel", "rule", "count", "spacing"),
    [
        (mm(915), RULE, 3, Fraction(mm("357.5"))),  # 715 / 400 = 1.8
        (mm(1800), RULE, 5, Fraction(mm(400))),  # 1600 / 400 = 4 exactly, no sixth clip
        (mm(2484), RULE, 7, Fraction(mm(2284), 6)),  # 5.71; 380.7 apart
        (inches(36), ClipRule(edge=inches(4), pitch=inches(16)), 3, Fraction(inches(14))),
    ],
)
def test_clips_of_a_piece(channel: Length, rule: ClipRule, count: int, spacing: Fraction) -> None:
    """N = ceil((A - 2d) / s) + 1, evenly spread."""
    fit = clips_for(channel, rule)
    assert (fit.count, fit.spacing) == (count, spacing)
    assert fit.positions[0] == rule.edge
    assert fit.positions[-1] == channel - rule.edge


def test_a_nanometre_more_than_the_pitch_takes_another_clip() -> None:
    """The boundary at 1800 is exact."""
    assert clips_for(Length(mm(1800) + 1), RULE).count == 6


@pytest.mark.parametrize("channel", [mm(420), mm(201), mm(200), mm(150)])
def test_a_short_piece_has_two_clips_within_it(channel: Length) -> None:
    """Down to less than twice the edge distance, where they sit at the quarters."""
    fit = clips_for(channel, RULE)
    assert fit.count == 2
    assert 0 < fit.positions[0] < fit.positions[1] < channel
    assert fit.positions[0] == (mm(100) if channel > mm(200) else channel // 4)


def test_one_clip_below_the_family_threshold() -> None:
    """It sits in the middle; the threshold itself takes two again."""
    rule = replace(RULE, single_below=mm(300))
    assert clips_for(mm(299), rule).positions == (mm("149.5"),)
    assert clips_for(mm(300), rule).count == 2


def test_covers_and_families_without_a_rule_take_no_clips() -> None:
    """Only channel pieces are held."""
    channel = Piece(
        id="a",
        job="J",
        run="a",
        material=Material("F", "natural", Part.CHANNEL),
        length=mm(915),
        exact=mm(915),
    )
    cover = replace(channel, id="ac", material=Material("F", "natural", Part.COVER))
    other = replace(channel, id="b", material=Material("G", "natural", Part.CHANNEL))
    assert clips_of((channel, cover, other), {"F": RULE}) == (PartCount("F", "natural", 3),)


def test_the_demo_building_takes_1526_clips() -> None:
    """Per piece after splitting, d 100 and s 400, coves by their long point."""
    request = building()
    rules = {family.name: RULE for family in request.families}
    counts = clips_of(take_off(request).pieces, rules)
    assert sum(part.count for part in counts) == 1526
    assert len(counts) == 5


@pytest.mark.parametrize("wrong", [{"edge": mm(-1), "pitch": mm(1)}, {"edge": mm(1), "pitch": mm(0)}])
def test_impossible_rules_are_refused(wrong: dict[str, Length]) -> None:
    """A pitch of nothing would ask for endless clips."""
    with pytest.raises(ProblemError, match="lip"):
        ClipRule(**wrong)
