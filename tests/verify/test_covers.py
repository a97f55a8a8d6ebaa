"""The auditor misses no cover that is lacking, too long or jointed where it must not be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.domain.material import CapStyle, CoverMode, Family, Part
from nesting.domain.runs import LengthKind
from nesting.units import Length, mm
from nesting.verify.covers import cover_violations, runs_over_joints
from nesting.verify.fixture import Fixture
from tests.verify.change import change, found
from tests.verify.small_plan import plan

PLAN = plan()


@pytest.mark.parametrize(
    ("path", "changes", "code", "where"),
    [
        ("request.families.0", {"nose": mm(9)}, "cover-length", "piece B"),
        ("request.families.1", {"cover_mode": CoverMode.NONE}, "cover-length", "piece D"),
        ("request.families.2", {"cover_play": mm(1)}, "cover-length", "piece F.1c"),
        ("request.families.2", {"cover_mode": CoverMode.NONE}, "piece-unasked", "piece F.1c"),
        ("request.families.3", {"cover_mode": CoverMode.SEPARATE}, "piece-missing", "run H"),
        ("pieces.3", {"cover_length": None}, "cover-length", "piece B"),
        ("pieces.10", {"exact": mm(661)}, "cover-length", "piece F.1c"),
    ],
)
def test_one_change_is_named(path: str, changes: dict[str, Any], code: str, where: str) -> None:
    """A cover that is too long does not go in; one too short shows its end."""
    assert (code, where) in found(change(PLAN, path, **changes))


def jointed(**changes: Any) -> Fixture:
    """Give run C, two channels of 1803 that meet in a gap of 1, with one cover of 3600 over both."""
    run = replace(PLAN.request.runs[2], kind=LengthKind.CHANNEL, length=mm(3607))
    family = Family(
        name="TOLV-17N",
        cap_style=CapStyle.NOSE,
        nose=mm(3),
        joint_gap=mm(1),
        cover_mode=CoverMode.SEPARATE,
        cover_play=mm(1),
        **changes,
    )
    channels = [replace(piece, cover_length=None) for piece in PLAN.pieces if piece.run == "C"]
    part = replace(channels[0].material, part=Part.COVER)
    # 1803 + 1 + 1803 less 3 + 3 for the noses and 1 for play: 3600.
    cover = replace(channels[0], id="C.c", material=part, length=mm(3600), exact=mm(3600))
    return Fixture.of(PLAN.request, run, family, 1, [*channels, cover])


def cut_in_two(fixture: Fixture, first: str) -> Fixture:
    """Give the fixture with its cover in two, the first of a length."""
    (cover,) = fixture.covers
    rest = Length(cover.length - mm(first))
    covers = (
        replace(cover, id="C.1", length=mm(first), exact=mm(first)),
        replace(cover, id="C.2", length=rest, exact=rest),
    )
    return replace(fixture, covers=covers)


def named(fixture: Fixture) -> list[tuple[str, str]]:
    """Give what is found in a fixture whose covers run over the joints."""
    return [(v.code, v.where) for v in cover_violations(fixture, over_joints=True)]


def test_a_cover_over_the_joint_comes_to_the_whole_channel() -> None:
    """The gap belongs to it; play is taken off once."""
    assert named(jointed()) == []
    (cover,) = jointed().covers
    short = replace(jointed(), covers=(replace(cover, length=mm(3599)),))
    assert named(short) == [("cover-length", "run C")]


@pytest.mark.parametrize(
    ("first", "far"), [("1600", True), ("1600.5", False), ("2000.5", False), ("2001", True)]
)
def test_a_cover_s_joint_keeps_its_distance(first: str, far: bool) -> None:
    """The channel's joint lies at 1803 to 1804, the cover begins at 3: 200 off are 1600 and 2001."""
    fixture = cut_in_two(jointed(cover_stagger=mm(200)), first)
    assert named(fixture) == ([] if far else [("cover-joint-near", "piece C.1")])


def test_a_cover_from_a_coil_has_no_joint() -> None:
    """That is what the coil is bought for."""
    assert named(jointed(cover_coil=True)) == []
    assert named(cut_in_two(jointed(cover_coil=True), "1000")) == [("cover-joint-near", "run C")]


def test_a_missing_cover_is_named_once() -> None:
    """Its length cannot be wrong as well."""
    assert named(replace(jointed(), covers=())) == [("piece-missing", "run C")]


def test_covers_run_over_joints_where_there_are_any() -> None:
    """Neither a stagger nor a coil matters on a channel in one piece."""
    assert runs_over_joints(jointed(cover_stagger=mm(200)))
    assert runs_over_joints(jointed(cover_coil=True))
    assert not runs_over_joints(jointed())
    whole = jointed(cover_coil=True)
    assert not runs_over_joints(replace(whole, channels=whole.channels[:1]))
