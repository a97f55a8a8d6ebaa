"""
The bag counted again, end by end and piece by piece, from the runs and the pieces alone.

Clips by ``N = max(2, ceil((A - 2d) / s) + 1)``; a channel shorter than 2d keeps a quarter of its
length free at either end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TypeVar

from nesting.domain.material import Family, Part
from nesting.domain.plan import Plan
from nesting.domain.runs import EndCondition
from nesting.domain.small_parts import Hand
from nesting.verify.violation import Violation

CapKey = tuple[str, str, str, bool]
PartKey = tuple[str, str]
Key = TypeVar("Key", bound=tuple[str | bool, ...])


def small_part_violations(plan: Plan) -> Iterator[Violation]:
    """Give the caps, clips and joint sets that are not as many as the runs need."""
    parts = plan.small_parts
    if parts is None:
        return
    caps: Counter[CapKey] = Counter()
    for cap in parts.caps:
        kind = cap.kind
        caps[kind.family, kind.finish, kind.hand.value, kind.holed] += cap.count
    yield from _compare("caps", "cap-count", caps, caps_due(plan))
    clips: Counter[PartKey] = Counter()
    for clip in parts.clips:
        clips[clip.family, clip.finish] += clip.count
    yield from _compare("clips", "clip-count", clips, clips_due(plan))
    sets: Counter[PartKey] = Counter()
    for one in parts.joint_sets:
        sets[one.family, one.finish] += one.count
    yield from _compare("joint sets", "joint-set-count", sets, joint_sets_due(plan))


def caps_due(plan: Plan) -> Counter[CapKey]:
    """Count the caps of every run that has pieces: family, finish, hand, holed or not."""
    handed = {family.name for family in plan.request.families if family.handed_caps}
    made = {(piece.job, piece.run) for piece in plan.pieces}
    due: Counter[CapKey] = Counter()
    for run in plan.request.runs:
        if (run.job, run.id) not in made:
            continue
        for side, end in ((Hand.LEFT, run.left), (Hand.RIGHT, run.right)):
            hand = side if run.family in handed else Hand.NONE
            if end is EndCondition.HOLED_CAP:
                due[run.family, run.finish, hand.value, True] += run.quantity
            elif end is EndCondition.SOLID_CAP:
                due[run.family, run.finish, hand.value, False] += run.quantity
    return due


def clips_due(plan: Plan) -> Counter[PartKey]:
    """Count the clips of every channel piece that came from a run."""
    families = {family.name: family for family in plan.request.families}
    runs = {(run.job, run.id) for run in plan.request.runs}
    due: Counter[PartKey] = Counter()
    for piece in plan.pieces:
        family = families.get(piece.material.family)
        if family and piece.material.part is Part.CHANNEL and (piece.job, piece.run) in runs:
            count = _clips(int(piece.length if piece.long_point is None else piece.long_point), family)
            if count:
                due[piece.material.family, piece.material.finish] += count
    return due


def joint_sets_due(plan: Plan) -> Counter[PartKey]:
    """Count one set less than there are sections, for every fixture in sections."""
    due: Counter[PartKey] = Counter()
    for piece in plan.pieces:
        if piece.material.part is Part.CHANNEL and piece.section > 1:
            due[piece.material.family, piece.material.finish] += 1
    return due


def _clips(length: int, family: Family) -> int:
    if not family.clip_spacing:
        return 0
    if length < family.clip_single_below:
        return 1
    # Doubled, so that a quarter of the length stays a whole number.
    between = 2 * (length - 2 * family.clip_edge) if 2 * family.clip_edge < length else length
    spans = 0
    while spans * 2 * family.clip_spacing < between:
        spans += 1
    return max(spans, 1) + 1


def _compare(what: str, code: str, counted: Mapping[Key, int], due: Mapping[Key, int]) -> Iterator[Violation]:
    for key in sorted({*counted, *due}):
        if counted.get(key, 0) != due.get(key, 0):
            named = " ".join(str(part) for part in key[:2] if part)
            yield Violation(
                code,
                f"family {key[0]}",
                f"{named}: {counted.get(key, 0)} {what} are listed, {due.get(key, 0)} are needed.",
            )
