"""
Whether the listed pieces of a run are what it asks for, derived here once more from the run.

Only sums are rebuilt, so that any way of dividing a long run may pass: the finished size F, the
channel A = F - t_L - t_R, and for a run in m sections ``sum(sections) + (m - 1) j = A``, up to the
saw's setting step.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence, Set

from nesting.domain.material import CoverMode, Part, SplitRule
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, Run
from nesting.verify.covers import cover_violations, runs_over_joints
from nesting.verify.due import Due, caps_length, channel_due
from nesting.verify.fixture import Fixture
from nesting.verify.mitred import mitred_due
from nesting.verify.supply import saw_of
from nesting.verify.violation import Violation, in_mm


def run_violations(
    request: Request, run: Run, pieces: Sequence[Piece], *, joints_together: bool
) -> Iterator[Violation]:
    """
    Give the fixtures of a run that lack pieces or have too many, and the pieces that are wrong.

    Parameters
    ----------
    pieces
        All that are listed for the run.
    joints_together
        Whether the plan says that the run's cover joints could not be kept off the channel's.
    """
    family = next((f for f in request.families if f.name == run.family), None)
    if family is None:
        yield Violation(
            "unknown-family", f"run {run.id}", f"Run {run.id}: no family {run.family} in the catalogue."
        )
        return
    for piece in pieces:
        if (piece.material.family, piece.material.finish) != (run.family, run.finish):
            yield Violation(
                "piece-material",
                f"piece {piece.id}",
                f"Piece {piece.id} is of {piece.material}; run {run.id} asks for {run.family} {run.finish}.",
            )
    fixtures: defaultdict[int, list[Piece]] = defaultdict(list)
    for piece in pieces:
        fixtures[piece.copy].append(piece)
    yield from _copies(run, fixtures.keys())
    channel = channel_due(run, family, saw_of(request, Part.CHANNEL).step)
    for copy in sorted(fixtures):
        if not 1 <= copy <= run.quantity:
            continue
        fixture = Fixture.of(request, run, family, copy, fixtures[copy])
        yield from _sections(fixture)
        if run.mitres:
            yield from _mitred(fixture)
        else:
            yield from _channel(fixture, channel)
            over_joints = runs_over_joints(fixture) and not joints_together
            yield from cover_violations(fixture, over_joints=over_joints)


def _copies(run: Run, present: Set[int]) -> Iterator[Violation]:
    for copy in range(1, run.quantity + 1):
        if copy not in present:
            yield Violation(
                "piece-missing",
                f"run {run.id}",
                f"Run {run.id}: {run.quantity} asked for, nothing is listed for number {copy}.",
            )
    for copy in sorted(copy for copy in present if not 1 <= copy <= run.quantity):
        yield Violation(
            "piece-unasked",
            f"run {run.id}",
            f"Run {run.id}: {run.quantity} asked for, number {copy} is listed.",
        )


def _sections(fixture: Fixture) -> Iterator[Violation]:
    """Hold sections to their numbers, to the rule of dividing, and to what is at their ends."""
    run, channels = fixture.run, fixture.channels
    named = f"Run {run.id}, number {fixture.copy}"
    count = len(channels)
    numbers = [piece.section for piece in channels]
    if numbers != list(range(1, count + 1)) or any(piece.sections != count for piece in channels):
        yield Violation(
            "sections",
            fixture.where,
            f"{named}: sections {numbers} are listed, "
            f"{channels[0].sections if channels else 1} are named on them.",
        )
    if count > 1 and (run.split_rule or fixture.family.split_rule) is SplitRule.NEVER:
        yield Violation("split-forbidden", fixture.where, f"{named}: it may not be jointed.")
    for position, piece in enumerate(channels):
        left = run.left if position == 0 else EndCondition.JOINT
        right = run.right if position == count - 1 else EndCondition.JOINT
        if (piece.left, piece.right) != (left, right):
            yield Violation(
                "end-condition",
                f"piece {piece.id}",
                f"Piece {piece.id} ends in {piece.left.value} and {piece.right.value}; run {run.id} asks "
                f"for {left.value} and {right.value} there.",
            )


def _channel(fixture: Fixture, due: Due) -> Iterator[Violation]:
    """Hold the sections of a channel, with the gaps between them, to its length."""
    run, channels = fixture.run, fixture.channels
    if not channels:
        yield Violation(
            "piece-missing",
            fixture.where,
            f"Run {run.id}, number {fixture.copy}: its channel is not listed.",
        )
        return
    gaps = (len(channels) - 1) * fixture.family.joint_gap
    for kind, total, allowed in (
        ("exact", sum(piece.exact for piece in channels) + gaps, Due(due.exact, 0, due.down)),
        ("sawn", sum(piece.length for piece in channels) + gaps, due),
    ):
        if not allowed.allows(total):
            where = fixture.where_of(channels)
            with_gaps = f" with {len(channels) - 1} joints" if len(channels) > 1 else ""
            yield Violation(
                "piece-length",
                where,
                f"{where[0].upper()}{where[1:]}, number {fixture.copy}: its channel comes to "
                f"{in_mm(total)} ({kind}){with_gaps}, by the run it has to be {in_mm(due.exact)}.",
            )


def _mitred(fixture: Fixture) -> Iterator[Violation]:
    """Hold one mitred fixture to its run: a channel in one piece, its cover with the same slopes."""
    run, family, covers = fixture.run, fixture.family, fixture.covers
    separate = family.cover_mode is CoverMode.SEPARATE
    if len(fixture.channels) != 1 or len(covers) != int(separate):
        yield Violation(
            "piece-missing",
            fixture.where,
            f"Run {run.id}, number {fixture.copy}: a mitred fixture is one "
            f"channel{' and one cover' * separate}.",
        )
        return
    channel = fixture.channels[0]
    yield from mitred_due(run, family, channel, caps_length(run, family), fixture.step(Part.CHANNEL))
    if separate:
        yield from mitred_due(run, family, covers[0], 0, 0)
        due, step = channel.stop - fixture.noses - family.cover_play, fixture.step(Part.COVER)
        if not (covers[0].stop == due or 0 <= due - covers[0].stop < step):
            yield Violation(
                "cover-length",
                f"piece {covers[0].id}",
                f"Piece {covers[0].id}: its long point is {in_mm(covers[0].stop)}, it has to be "
                f"{in_mm(due)}.",
            )
    due_together = channel.stop - fixture.noses if family.cover_mode.together else None
    if channel.cover_length != due_together:
        yield Violation(
            "cover-length",
            f"piece {channel.id}",
            f"Piece {channel.id}: its cover is not as long as it has to be.",
        )
