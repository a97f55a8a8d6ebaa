"""
Whether the listed pieces are what the runs ask for, derived here once more from the runs.

Only sums are rebuilt, so that any way of dividing a long run may pass: the finished size F, the
channel A = F - t_L - t_R, the cover V = A - n_L - n_R - g, and for a run in m sections
``sum(sections) + (m - 1) j = A``, up to the saw's setting step.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass

from nesting.domain.material import CapStyle, CoverMode, Family, Part, SplitRule
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Run
from nesting.verify.mitred import mitred_due
from nesting.verify.supply import saw_of
from nesting.verify.violation import Violation, in_mm


@dataclass(frozen=True, slots=True)
class Due:
    """
    What one part of one fixture has to come to.

    Parameters
    ----------
    exact
        Its length by the formulas, joint gaps included, nanometres.
    step
        The saw's setting step; 0 for any length.
    down
        Whether rounding goes down only, as for openings and covers.
    """

    exact: int
    step: int
    down: bool

    def allows(self, length: int) -> bool:
        """Tell whether a length is this one up to rounding."""
        off = self.exact - length
        if not self.step:
            return off == 0
        return 0 <= off < self.step if self.down else abs(2 * off) <= self.step


def demand_violations(plan: Plan) -> Iterator[Violation]:
    """Give the runs that lack pieces, the pieces nobody asked for, and those of a wrong length."""
    pieces: defaultdict[tuple[str, str], list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        pieces[piece.job, piece.run].append(piece)
    # Runs whose plan says that their cover joints could not be kept off the channel's.
    together = {finding.found for finding in plan.findings if finding.code == "cover-joints-together"}
    exempt = {(u.job, u.run) for u in plan.unplaced if not u.piece}
    for run in plan.request.runs:
        mine = pieces.pop((run.job, run.id), [])
        if (run.job, run.id) not in exempt or mine:
            yield from _run(plan.request, run, mine, together)
    for line in plan.request.piece_lines:
        mine = pieces.pop((line.job, line.id), [])
        if (line.job, line.id) not in exempt or mine:
            yield from _line(plan.request, line, mine)
    for strangers in pieces.values():
        for piece in strangers:
            yield Violation(
                "piece-unasked",
                f"piece {piece.id}",
                f"Piece {piece.id}: job {piece.job} has no run {piece.run}.",
            )
    rows = Counter((row.job, row.id) for row in rows_of(plan.request))
    for (job, name), times in rows.items():
        if times > 1:
            yield Violation("run-twice", f"run {name}", f"Job {job} has {times} runs named {name}.")
    known = rows.keys()
    for job, name in sorted(exempt - known):
        yield Violation(
            "unknown-run", f"run {name}", f"Run {name} is left out, but job {job} has no such run."
        )


def rows_of(request: Request) -> tuple[Run | PieceLine, ...]:
    """Give everything asked for, runs first."""
    return (*request.runs, *request.piece_lines)


def channel_due(request: Request, family: Family, run: Run) -> Due:
    """Give the channel length A of one fixture: opening less clearances, less capped ends."""
    total = int(run.length)
    if run.kind is LengthKind.OPENING:
        for clearance in (run.clearance_left, run.clearance_right):
            total -= family.clearance if clearance is None else clearance
    if run.kind is not LengthKind.CHANNEL and family.cap_style is not CapStyle.INNER:
        total -= family.cap_thickness * _caps(run.left, run.right)
    down = run.kind is LengthKind.OPENING
    return Due(total, saw_of(request, Part.CHANNEL).step, down)


def _caps(left: EndCondition, right: EndCondition) -> int:
    return [left, right].count(EndCondition.SOLID_CAP) + [left, right].count(EndCondition.HOLED_CAP)


def _run(request: Request, run: Run, pieces: Sequence[Piece], together: Set[str]) -> Iterator[Violation]:
    where = f"run {run.id}"
    family = next((f for f in request.families if f.name == run.family), None)
    if family is None:
        yield Violation("unknown-family", where, f"Run {run.id}: no family {run.family} in the catalogue.")
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
    channel = channel_due(request, family, run)
    for copy in sorted(fixtures):
        if not 1 <= copy <= run.quantity:
            continue
        channels = _in_order(fixtures[copy], Part.CHANNEL)
        covers = _in_order(fixtures[copy], Part.COVER)
        yield from _sections(run, family, copy, channels)
        if run.mitres:
            yield from _mitred(request, run, family, copy, channels, covers)
            continue
        yield from _sum(run, copy, "channel", channels, channel, family.joint_gap)
        separate = family.cover_mode is CoverMode.SEPARATE
        if covers and not separate:
            for piece in covers:
                yield Violation(
                    "piece-unasked",
                    f"piece {piece.id}",
                    f"Piece {piece.id}: covers of {family.name} are not cut on their own.",
                )
        if separate:
            over = len(channels) > 1 and (family.cover_coil or family.cover_stagger > 0)
            if over and f"{run.job} {run.id}" not in together:
                yield from _cover_over_joints(request, run, family, copy, channels, covers)
            else:
                yield from _separate_cover(request, run, family, copy, channels, covers)
        yield from _covers_together(family, channels)


def _mitred(
    request: Request, run: Run, family: Family, copy: int, channels: Sequence[Piece], covers: Sequence[Piece]
) -> Iterator[Violation]:
    """Hold one mitred fixture to its run: a channel in one piece, its cover with the same slopes."""
    separate = family.cover_mode is CoverMode.SEPARATE
    if len(channels) != 1 or len(covers) != int(separate):
        yield Violation(
            "piece-missing",
            f"run {run.id}",
            f"Run {run.id}, number {copy}: a mitred fixture is one channel{' and one cover' * separate}.",
        )
        return
    channel = channels[0]
    cap = 0
    if run.kind is not LengthKind.CHANNEL and family.cap_style is not CapStyle.INNER:
        cap = family.cap_thickness * _caps(run.left, run.right)
    yield from mitred_due(run, family, channel, cap, saw_of(request, Part.CHANNEL).step)
    less = _nose(family) * _caps(run.left, run.right)
    if separate:
        yield from mitred_due(run, family, covers[0], 0, 0)
        due, step = channel.stop - less - family.cover_play, saw_of(request, Part.COVER).step
        if not (covers[0].stop == due or 0 <= due - covers[0].stop < step):
            yield Violation(
                "cover-length",
                f"piece {covers[0].id}",
                f"Piece {covers[0].id}: its long point is {in_mm(covers[0].stop)}, it has to be "
                f"{in_mm(due)}.",
            )
    due_together = channel.stop - less if family.cover_mode.together else None
    if channel.cover_length != due_together:
        yield Violation(
            "cover-length",
            f"piece {channel.id}",
            f"Piece {channel.id}: its cover is not as long as it has to be.",
        )


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


def _in_order(pieces: Sequence[Piece], part: Part) -> list[Piece]:
    return sorted((p for p in pieces if p.material.part is part), key=lambda p: (p.section, p.id))


def _sections(run: Run, family: Family, copy: int, channels: Sequence[Piece]) -> Iterator[Violation]:
    count = len(channels)
    where = f"run {run.id}"
    numbers = [piece.section for piece in channels]
    if numbers != list(range(1, count + 1)) or any(piece.sections != count for piece in channels):
        yield Violation(
            "sections",
            where,
            f"Run {run.id}, number {copy}: sections {numbers} are listed, "
            f"{channels[0].sections if channels else 1} are named on them.",
        )
    if count > 1 and (run.split_rule or family.split_rule) is SplitRule.NEVER:
        yield Violation("split-forbidden", where, f"Run {run.id}, number {copy}: it may not be jointed.")
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


def _sum(run: Run, copy: int, what: str, parts: Sequence[Piece], due: Due, gap: int) -> Iterator[Violation]:
    if not parts:
        yield Violation(
            "piece-missing", f"run {run.id}", f"Run {run.id}, number {copy}: its {what} is not listed."
        )
        return
    gaps = (len(parts) - 1) * gap
    for kind, total, allowed in (
        ("exact", sum(piece.exact for piece in parts) + gaps, Due(due.exact, 0, due.down)),
        ("sawn", sum(piece.length for piece in parts) + gaps, due),
    ):
        if not allowed.allows(total):
            where = f"piece {parts[0].id}" if len(parts) == 1 else f"run {run.id}"
            with_gaps = f" with {len(parts) - 1} joints" if len(parts) > 1 else ""
            yield Violation(
                "piece-length",
                where,
                f"{where[0].upper()}{where[1:]}, number {copy}: its {what} comes to {in_mm(total)} "
                f"({kind}){with_gaps}, by the run it has to be {in_mm(due.exact)}.",
            )


def _separate_cover(
    request: Request, run: Run, family: Family, copy: int, channels: Sequence[Piece], covers: Sequence[Piece]
) -> Iterator[Violation]:
    """Hold the covers of one fixture to the channel as it is sawn, which they have to go into."""
    where = f"piece {covers[0].id}" if len(covers) == 1 else f"run {run.id}"
    if not covers:
        yield Violation("piece-missing", where, f"Run {run.id}, number {copy}: its cover is not listed.")
        return
    # Play is taken off every cover, noses at the capped ends, the gap at every joint.
    less = _nose(family) * _caps(run.left, run.right)
    less += len(covers) * family.cover_play + (len(covers) - len(channels)) * family.joint_gap
    step = saw_of(request, Part.COVER).step
    for kind, total, due, slack in (
        ("exact", sum(c.exact for c in covers), sum(c.exact for c in channels) - less, 0),
        ("sawn", sum(c.length for c in covers), sum(c.length for c in channels) - less, step * len(covers)),
    ):
        # Each cover is rounded down by less than a step.
        if not (total == due or 0 <= due - total < slack):
            yield Violation(
                "cover-length",
                where,
                f"{where[0].upper()}{where[1:]}, number {copy}: the cover comes to {in_mm(total)} ({kind}), "
                f"by its channel it has to be {in_mm(due)}.",
            )


def _cover_over_joints(
    request: Request, run: Run, family: Family, copy: int, channels: Sequence[Piece], covers: Sequence[Piece]
) -> Iterator[Violation]:
    """Hold covers that run over the channel's joints to their sum, and to their distance from each joint."""
    where = f"run {run.id}"
    if not covers:
        yield Violation("piece-missing", where, f"Run {run.id}, number {copy}: its cover is not listed.")
        return
    gap = family.joint_gap
    less = _nose(family) * _caps(run.left, run.right) + family.cover_play - (len(channels) - 1) * gap
    step = saw_of(request, Part.COVER).step
    for kind, total, due, slack in (
        ("exact", sum(c.exact for c in covers), sum(c.exact for c in channels) - less, 0),
        ("sawn", sum(c.length for c in covers), sum(c.length for c in channels) - less, step),
    ):
        if not (total == due or 0 <= due - total < slack):
            yield Violation(
                "cover-length",
                where,
                f"Run {run.id}, number {copy}: its covers come to {in_mm(total)} ({kind}), over its joints "
                f"they have to be {in_mm(due)}.",
            )
    joints: list[tuple[int, int]] = []
    at = 0
    for channel in channels[:-1]:
        at += channel.length
        joints.append((at, at + gap))
        at += gap
    meets = _nose(family) if run.left in (EndCondition.SOLID_CAP, EndCondition.HOLED_CAP) else 0
    for cover in covers[:-1]:
        meets += cover.length
        apart = family.cover_stagger
        near = [joint for joint in joints if joint[0] - apart < meets < joint[1] + apart]
        if near:
            yield Violation(
                "cover-joint-near",
                f"piece {cover.id}",
                f"Piece {cover.id} ends {in_mm(meets)} from the left, too near the channel's joint at "
                f"{in_mm(near[0][0])}; {in_mm(apart)} are asked for.",
            )
    if family.cover_coil and len(covers) > 1:
        yield Violation(
            "cover-joint-near", where, f"Run {run.id}, number {copy}: a cover from a coil has no joint."
        )


def _nose(family: Family) -> int:
    return 0 if family.cap_style is CapStyle.FLUSH else int(family.nose)


def _covers_together(family: Family, channels: Sequence[Piece]) -> Iterator[Violation]:
    for piece in channels:
        due: int | None = None
        if family.cover_mode in (CoverMode.FLUSH, CoverMode.OFFSET):
            due = piece.length - _nose(family) * _caps(piece.left, piece.right)
        if piece.cover_length != due:
            said = "none" if piece.cover_length is None else in_mm(piece.cover_length)
            yield Violation(
                "cover-length",
                f"piece {piece.id}",
                f"Piece {piece.id}: its cover is listed as {said}, it comes to "
                f"{'none' if due is None else in_mm(due)}.",
            )


def _line(request: Request, line: PieceLine, pieces: Sequence[Piece]) -> Iterator[Violation]:
    due = Due(line.length, saw_of(request, line.part).step, down=False)
    copies = [piece.copy for piece in pieces]
    for copy in range(1, line.quantity + 1):
        if copies.count(copy) != 1:
            yield Violation(
                "piece-missing" if copy not in copies else "piece-unasked",
                f"run {line.id}",
                f"Line {line.id}: number {copy} of {line.quantity} is listed {copies.count(copy)} times.",
            )
    for piece in pieces:
        where = f"piece {piece.id}"
        material = piece.material
        if not 1 <= piece.copy <= line.quantity:
            yield Violation(
                "piece-unasked", where, f"Piece {piece.id}: line {line.id} asks for {line.quantity} only."
            )
        if (material.family, material.finish, material.part) != (line.family, line.finish, line.part):
            yield Violation(
                "piece-material",
                where,
                f"Piece {piece.id} is of {material}; line {line.id} asks for {line.family} {line.finish} "
                f"{line.part.value}.",
            )
        if piece.exact != line.length or not due.allows(piece.length):
            yield Violation(
                "piece-length",
                where,
                f"Piece {piece.id}: {in_mm(piece.length)} is set, line {line.id} asks for "
                f"{in_mm(line.length)}.",
            )
