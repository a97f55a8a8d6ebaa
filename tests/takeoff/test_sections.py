"""One run's channel divided into sections with their ends and covers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.material import CapStyle, CoverMode, Family, SplitRule
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.takeoff.sections import NotMade, nose_at, sections_of, whole_channel
from nesting.units import Length, mm

CAP, HOLED, BARE, JOINT = (
    EndCondition.SOLID_CAP,
    EndCondition.HOLED_CAP,
    EndCondition.BARE,
    EndCondition.JOINT,
)
NOSED = Family(
    name="TOLV-17N",
    cap_style=CapStyle.NOSE,
    cap_thickness=mm("1.5"),
    nose=mm(8),
    cover_mode=CoverMode.SEPARATE,
    clearance=mm("1.5"),
)
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), step=mm(1))
RUN = Run(job="J", id="R", family="TOLV-17N", length=mm(1806), kind=LengthKind.OPENING)


@pytest.mark.parametrize(
    ("changes", "channel"),
    [
        ({}, mm(1800)),  # 1806 - 2 x 1.5 clearance - 2 x 1.5 cap
        ({"kind": LengthKind.FINISHED}, mm(1803)),
        ({"kind": LengthKind.CHANNEL}, mm(1806)),
        ({"left": HOLED, "right": BARE}, mm("1801.5")),
        ({"left": JOINT, "right": BARE}, mm(1803)),
        ({"clearance_left": mm(0), "clearance_right": mm(4)}, mm(1799)),
    ],
)
def test_whole_channel_counts_what_the_ends_carry(changes: dict[str, object], channel: Length) -> None:
    """Clearance belongs to openings and thickness to caps, each end on its own."""
    assert whole_channel(replace(RUN, **changes), NOSED) == channel  # type: ignore[arg-type]


def test_a_nose_needs_a_cap() -> None:
    """Bare ends and joints leave the channel's end free for the cover."""
    assert [nose_at(NOSED, end) for end in (CAP, HOLED, BARE, JOINT)] == [mm(8), mm(8), 0, 0]


def test_inner_ends_are_joints() -> None:
    """A split run keeps its outer ends; each cover loses a nose at the capped end only."""
    sections = list(sections_of(RUN, NOSED, Request(saw=SAW), mm(3606), mm(3606), mm(2484)))
    assert [(s.left, s.right) for s in sections] == [(CAP, JOINT), (JOINT, CAP)]
    assert [(s.length, s.cover) for s in sections] == [(mm(1803), mm(1795))] * 2


def test_exact_lengths_of_equal_sections_add_up() -> None:
    """5335.5 in three: by the formula 1778.5 each, sawn down from 5335 with the rest on the last."""
    sections = list(sections_of(RUN, NOSED, Request(saw=SAW), mm("5335.5"), mm(5335), mm(2484)))
    assert [s.exact for s in sections] == [mm("1778.5")] * 3
    assert [s.length for s in sections] == [mm(1778), mm(1778), mm(1779)]


def test_exact_lengths_of_full_bars_differ_on_the_last_only() -> None:
    """Full bars are sawn as they are; what rounding took is missing at the end of the run."""
    run = replace(RUN, split_rule=SplitRule.FULL)
    sections = list(sections_of(run, NOSED, Request(saw=SAW), mm("5334.5"), mm(5334), mm(2484)))
    assert [s.length for s in sections] == [mm(2484), mm(2484), mm(366)]
    assert [s.exact for s in sections] == [mm(2484), mm(2484), mm("366.5")]


def test_a_rest_that_its_own_cap_would_fill_is_shared() -> None:
    """2488 leaves a rest of 4, shorter than the 8 nose: two sections of 1244 instead."""
    run = replace(RUN, split_rule=SplitRule.FULL)
    sections = list(sections_of(run, NOSED, Request(saw=SAW), mm(2488), mm(2488), mm(2484)))
    assert [s.length for s in sections] == [mm(1244), mm(1244)]


def test_a_separate_cover_is_made_for_the_sawn_channel() -> None:
    """915.6 is sawn 915; noses 8.1 leave 898.8 of room, so 898: rounding 899.4 itself would jam."""
    family = replace(NOSED, nose=mm("8.1"))
    (section,) = sections_of(RUN, family, Request(saw=SAW), mm("915.6"), mm(915), None)
    assert (section.cover, section.cover_exact) == (mm(898), mm("899.4"))


def test_the_cover_saw_sets_the_step_of_separate_covers() -> None:
    """Covers may go over another saw: 915 - 16.2 = 898.8 on a half millimetre saw is 898.5."""
    request = Request(saw=SAW, cover_saw=SawRules(kerf=mm(2), step=mm("0.5")))
    family = replace(NOSED, nose=mm("8.1"))
    (section,) = sections_of(RUN, family, request, mm(915), mm(915), None)
    assert section.cover == mm("898.5")


@pytest.mark.parametrize(("mode", "cover"), [(CoverMode.SEPARATE, mm(1782)), (CoverMode.NONE, mm(1784))])
def test_play_belongs_to_separate_covers(mode: CoverMode, cover: Length) -> None:
    """1800 - 16 of noses - 2 of play; where no cover is cut on its own there is nothing to shorten."""
    family = replace(NOSED, cover_mode=mode, cover_play=mm(2))
    (section,) = sections_of(RUN, family, Request(saw=SAW), mm(1800), mm(1800), None)
    assert (section.cover, section.cover_exact) == (cover, cover)


def test_joints_off_still_takes_the_whole_bar() -> None:
    """A channel of just what a bar yields needs no joint."""
    family = replace(NOSED, split_rule=SplitRule.NEVER)
    (section,) = sections_of(RUN, family, Request(saw=SAW), mm(2484), mm(2484), mm(2484))
    assert section.length == mm(2484)


@pytest.mark.parametrize(
    ("family", "channel", "longest", "code"),
    [
        (NOSED, mm(16), None, "caps-meet"),
        (NOSED, mm(0), None, "no-length"),
        (NOSED, mm(-3), None, "no-length"),
        (replace(NOSED, split_rule=SplitRule.NEVER), mm(2485), mm(2484), "too-long"),
        (NOSED, mm(2484 * 1000 + 1), mm(2484), "too-long"),
    ],
)
def test_what_cannot_be_made_says_why(
    family: Family, channel: Length, longest: Length | None, code: str
) -> None:
    """Caps that meet, nothing to saw, and joints that are not wanted each have their code."""
    with pytest.raises(NotMade) as refusal:
        list(sections_of(RUN, family, Request(saw=SAW), channel, channel, longest))
    assert refusal.value.code == code
    assert refusal.value.reason
