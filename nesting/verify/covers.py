"""Whether the covers of a fixture go into its channel as it is sawn: V = A - n_L - n_R - g."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting.domain.material import CoverMode, Part
from nesting.domain.pieces import Piece
from nesting.domain.runs import EndCondition
from nesting.verify.due import noses_length
from nesting.verify.fixture import Fixture
from nesting.verify.violation import Violation, in_mm


def cover_violations(fixture: Fixture, *, over_joints: bool) -> Iterator[Violation]:
    """
    Give the covers that are missing, unasked, of a wrong length, or that meet too near a joint.

    Parameters
    ----------
    over_joints
        Whether covers of this family run over the channel's joints, as far as the plan kept to it.
    """
    if fixture.family.cover_mode is CoverMode.SEPARATE:
        if not fixture.covers:
            yield Violation(
                "piece-missing",
                fixture.where,
                f"Run {fixture.run.id}, number {fixture.copy}: its cover is not listed.",
            )
        elif over_joints:
            yield from _over_joints(fixture)
        else:
            yield from _section_by_section(fixture)
    else:
        for piece in fixture.covers:
            yield Violation(
                "piece-unasked",
                f"piece {piece.id}",
                f"Piece {piece.id}: covers of {fixture.family.name} are not cut on their own.",
            )
    yield from _cut_together(fixture)


def runs_over_joints(fixture: Fixture) -> bool:
    """Tell whether the family wants this fixture's covers kept off the channel's joints."""
    family = fixture.family
    return len(fixture.channels) > 1 and (family.cover_coil or family.cover_stagger > 0)


def _section_by_section(fixture: Fixture) -> Iterator[Violation]:
    """Hold covers that end where their channels end to the sum of these."""
    channels, covers, family = fixture.channels, fixture.covers, fixture.family
    # Play is taken off every cover, noses at the capped ends, the gap at every joint.
    less = fixture.noses + len(covers) * family.cover_play + (len(covers) - len(channels)) * family.joint_gap
    yield from _sum(
        fixture,
        less,
        rounded=len(covers),  # each cover is rounded down by less than a step
        where=fixture.where_of(covers),
        comes_to="the cover comes to",
        has_to_be="by its channel it has to be",
    )


def _over_joints(fixture: Fixture) -> Iterator[Violation]:
    """Hold covers that run over the channel's joints to their sum, and to their distance from each joint."""
    channels, covers, family = fixture.channels, fixture.covers, fixture.family
    less = fixture.noses + family.cover_play - (len(channels) - 1) * family.joint_gap
    yield from _sum(
        fixture,
        less,
        rounded=1,
        where=fixture.where,
        comes_to="its covers come to",
        has_to_be="over its joints they have to be",
    )
    yield from _too_near(fixture)
    if family.cover_coil and len(covers) > 1:
        yield Violation(
            "cover-joint-near",
            fixture.where,
            f"Run {fixture.run.id}, number {fixture.copy}: a cover from a coil has no joint.",
        )


def _sum(
    fixture: Fixture, less: int, *, rounded: int, where: str, comes_to: str, has_to_be: str
) -> Iterator[Violation]:
    """Hold the sum of the covers to that of the channels, ``rounded`` of them rounded down to a step."""
    slack = fixture.step(Part.COVER) * rounded
    for kind, total, due, off in (
        ("exact", _exact(fixture.covers), _exact(fixture.channels) - less, 0),
        ("sawn", _sawn(fixture.covers), _sawn(fixture.channels) - less, slack),
    ):
        if not (total == due or 0 <= due - total < off):
            yield Violation(
                "cover-length",
                where,
                f"{where[0].upper()}{where[1:]}, number {fixture.copy}: {comes_to} {in_mm(total)} ({kind}), "
                f"{has_to_be} {in_mm(due)}.",
            )


def _exact(pieces: Sequence[Piece]) -> int:
    return sum(piece.exact for piece in pieces)


def _sawn(pieces: Sequence[Piece]) -> int:
    return sum(piece.length for piece in pieces)


def _too_near(fixture: Fixture) -> Iterator[Violation]:
    family, run = fixture.family, fixture.run
    joints: list[tuple[int, int]] = []
    at = 0
    for channel in fixture.channels[:-1]:
        at += channel.length
        joints.append((at, at + family.joint_gap))
        at += family.joint_gap
    # The first cover begins behind the nose of the left cap.
    meets = noses_length(family, run.left, EndCondition.JOINT)
    apart = family.cover_stagger
    for cover in fixture.covers[:-1]:
        meets += cover.length
        near = [joint for joint in joints if joint[0] - apart < meets < joint[1] + apart]
        if near:
            yield Violation(
                "cover-joint-near",
                f"piece {cover.id}",
                f"Piece {cover.id} ends {in_mm(meets)} from the left, too near the channel's joint at "
                f"{in_mm(near[0][0])}; {in_mm(apart)} are asked for.",
            )


def _cut_together(fixture: Fixture) -> Iterator[Violation]:
    """Hold the cover length that each channel names to the one that is cut in the same stroke."""
    family = fixture.family
    for piece in fixture.channels:
        noses = noses_length(family, piece.left, piece.right)
        due = piece.length - noses if family.cover_mode.together else None
        if piece.cover_length != due:
            said = "none" if piece.cover_length is None else in_mm(piece.cover_length)
            yield Violation(
                "cover-length",
                f"piece {piece.id}",
                f"Piece {piece.id}: its cover is listed as {said}, it comes to "
                f"{'none' if due is None else in_mm(due)}.",
            )
