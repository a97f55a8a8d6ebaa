"""The strip measured and laid on its reels again, from the runs and the plan alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from nesting.domain.electrics import Feed
from nesting.domain.material import Family, Part
from nesting.domain.pieces import StripCut
from nesting.domain.plan import Plan
from nesting.domain.problem import BarKind, Problem
from nesting.domain.reels import ReelPlan
from nesting.domain.runs import Run
from nesting.units import NO_LENGTH, Length
from nesting.verify.due import noses_length
from nesting.verify.mitred import lit_room
from nesting.verify.violation import Violation, in_mm

PieceKey = tuple[str, str, int, int]


def strip_violations(plan: Plan) -> Iterator[Violation]:
    """Give the strips whose marks, circuits or pieces are not what their channels allow."""
    runs = {(run.job, run.id): run for run in plan.request.runs}
    families = {family.name: family for family in plan.request.families}
    for strip in plan.strips:
        where = f"run {strip.run}"
        run = runs.get((strip.job, strip.run))
        family = families.get(run.family) if run else None
        if run is None or family is None or family.strip_pitch is None:
            yield Violation("strip-unasked", where, f"Run {strip.run}: it takes no strip.")
            continue
        if strip.quantity != run.quantity:
            yield Violation(
                "strip-quantity",
                where,
                f"Run {strip.run}: strip for {strip.quantity} fixtures, {run.quantity} are asked for.",
            )
        if strip.length != strip.marks * family.strip_pitch // 1:
            yield Violation(
                "strip-length",
                where,
                f"Run {strip.run}: {strip.marks} marks are not {in_mm(strip.length)} of strip.",
            )
        yield from _parts(strip, run, family)
        yield from _room(plan, strip, run, family)


def _parts(strip: StripCut, run: Run, family: Family) -> Iterator[Violation]:
    where = f"run {strip.run}"
    if strip.parts and sum(strip.parts) != strip.marks:
        yield Violation(
            "strip-parts",
            where,
            f"Run {strip.run}: its pieces come to {sum(strip.parts)} marks, the strip has {strip.marks}.",
        )
    longest = family.strip_longest_both if run.feed is Feed.BOTH else family.strip_longest
    if longest is not None and strip.circuits * longest < strip.length:
        yield Violation(
            "strip-circuits",
            where,
            f"Run {strip.run}: {in_mm(strip.length)} of strip in {strip.circuits} circuits; none may be "
            f"longer than {in_mm(longest)}.",
        )


def _room(plan: Plan, strip: StripCut, run: Run, family: Family) -> Iterator[Violation]:
    """Hold the marks to the channel as it is sawn: as many as fit between the noses, not one more."""
    sections = [
        piece.length
        for piece in plan.pieces
        if (piece.job, piece.run, piece.copy) == (run.job, run.id, 1) and piece.part is Part.CHANNEL
    ]
    if not sections or family.strip_pitch is None:
        return
    if run.mitres:
        low, high = lit_room(run, family, int(strip.channel))
        if not low < (strip.marks + 1) * family.strip_pitch or strip.marks * family.strip_pitch > high:
            yield Violation(
                "strip-room",
                f"run {strip.run}",
                f"Run {strip.run}: {in_mm(int(high))} are free for strip, {strip.marks} marks of it are "
                "planned.",
            )
        return
    room = sum(sections) + (len(sections) - 1) * family.joint_gap - family.strip_feed - family.strip_tail
    room -= noses_length(family, run.left, run.right)
    if not 0 <= room - strip.marks * family.strip_pitch < family.strip_pitch:
        yield Violation(
            "strip-room",
            f"run {strip.run}",
            f"Run {strip.run}: {in_mm(room)} are free for strip, {strip.marks} marks of it are planned.",
        )


def reel_violations(plan: Plan) -> Iterator[Violation]:
    """Give what is wrong with the reels: pieces lost, cut twice or longer than what is left."""
    due: Counter[PieceKey] = Counter()
    marks: dict[PieceKey, int] = {}
    named = {(cut.job, cut.run) for one in plan.reels for reel in one.reels for cut in reel.cuts}
    for strip in plan.strips:
        if (strip.job, strip.run) not in named and not _reeled(plan, strip):
            continue
        for copy in range(strip.quantity):
            for part, length in enumerate(strip.parts or (strip.marks,)):
                key = (strip.job, strip.run, copy + 1, part + 1)
                due[key] += 1
                marks[key] = length
    found: Counter[PieceKey] = Counter()
    for one in plan.reels:
        yield from _reels(one, found, marks)
    for key in sorted(due.keys() | found.keys()):
        if due[key] != found[key]:
            yield Violation(
                "strip-piece",
                f"run {key[1]}",
                f"Strip of run {key[1]}, fixture {key[2]}, piece {key[3]}: cut {found[key]} times, "
                f"asked for {due[key]} times.",
            )


def _reels(one: ReelPlan, found: Counter[PieceKey], marks: dict[PieceKey, int]) -> Iterator[Violation]:
    where = f"strip {one.strip}"
    if one.marks != one.reel // one.pitch:
        yield Violation(
            "reel-marks", where, f"{one.strip}: a reel of {in_mm(one.reel)} has not {one.marks} marks."
        )
    for reel in one.reels:
        left = one.marks
        for cut in reel.cuts:
            key = (cut.job, cut.run, cut.copy, cut.part)
            found[key] += 1
            left -= cut.marks
            if key in marks and marks[key] != cut.marks:
                yield Violation(
                    "strip-piece-marks",
                    f"run {cut.run}",
                    f"Reel {reel.number}: {cut.marks} marks for run {cut.run}, {marks[key]} are needed.",
                )
        if left < 0 or left != reel.rest:
            yield Violation(
                "reel-overrun",
                where,
                f"Reel {reel.number} of {one.strip}: {left} marks are left, the plan says {reel.rest}.",
            )
    if one.bound > len(one.reels):
        yield Violation(
            "reel-bound",
            where,
            f"{one.strip}: fewer than {one.bound} reels are said to be impossible, "
            f"{len(one.reels)} are planned.",
        )


def _reeled(plan: Plan, strip: StripCut) -> bool:
    """Tell whether a plan with reels has to cut this strip from one."""
    if not plan.reels:
        return False
    run = next((run for run in plan.request.runs if (run.job, run.id) == (strip.job, strip.run)), None)
    family = next((f for f in plan.request.families if run and f.name == run.family), None)
    return family is not None and family.strip_reel is not None


def reel_problem_of(one: ReelPlan) -> Problem:
    """Give the problem an article's reels had to solve, for its certificate; lengths in marks."""
    counts = Counter(cut.marks for reel in one.reels for cut in reel.cuts)
    lengths = sorted(counts, reverse=True)
    return Problem(
        name=f"{one.strip} strip",
        lengths=tuple(Length(length) for length in lengths),
        counts=tuple(counts[length] for length in lengths),
        bars=(BarKind(key="reel", length=Length(one.marks)),),
        kerf=NO_LENGTH,
    )
