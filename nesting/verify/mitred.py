"""
Bars with mitred pieces sawn again with geometry of the auditor's own: both edges of every piece.

A plan counts such a bar along its centre line, each term rounded up to a nanometre. Besides recounting
that, the two edges of the section are walked: between two pieces there must be room for the strokes
on either edge, and nothing may stick out of the bar.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from nesting.domain.material import Family, Part
from nesting.domain.mitre import Mitre, MitrePlane, MitreSection
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar
from nesting.domain.rules import SawRules
from nesting.domain.runs import LengthKind, Run
from nesting.verify.due import noses_length
from nesting.verify.slopes import Bounds, gap_of, lean, sec_of, stroke_of, tan_of, tip_of
from nesting.verify.violation import Violation, in_mm

Faces = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class MitredWalk:
    """What the saw does to a bar with slopes, along its centre line, see `nesting.verify.walk.Walked`."""

    faces: tuple[int, ...]
    held: tuple[bool, ...]
    strokes: int
    chips: int
    rest: int
    tail: int
    take: int
    tail_due: int


def walk_mitred(bar: PlannedBar, saw: SawRules, section: MitreSection) -> MitredWalk:
    """Cut a bar with slopes as the sheet says, and see where the blade comes out."""
    width, kerf = int(section.width), int(saw.kerf)
    metal = bar.length - bar.head
    first = bar.cuts[0].slope_start
    at = tip_of(width, first)
    if bar.head:
        at += stroke_of(kerf, first) - kerf
    strokes = 1 if bar.head or first else 0
    faces: list[int] = []
    held: list[bool] = []
    for cut, following in zip(bar.cuts, (*bar.cuts[1:], None), strict=True):
        at += cut.length
        faces.append(at)
        left = metal - at - tip_of(width, cut.slope_end) - stroke_of(kerf, cut.slope_end)
        long_point = cut.length if cut.long_point is None else cut.long_point
        held.append(left >= saw.grip or 2 * cut.length - long_point >= saw.grip)
        if following is not None:
            at += gap_of(width, kerf, cut.slope_end, following.slope_start)
            strokes += 1 if cut.slope_end == following.slope_start else 2
    last = bar.cuts[-1].slope_end
    rest = metal - at - tip_of(width, last)
    take = stroke_of(kerf, last)
    tail = max(rest - take, 0)
    due = bar.tail_loss + (take - kerf if bar.tail_loss else 0)
    chips = metal - sum(cut.length for cut in bar.cuts) - tail
    return MitredWalk(
        tuple(faces), tuple(held), strokes + (rest > 0 or last != 0), chips, rest, tail, take, due
    )


def edge_violations(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    """Give the strokes that would cut into a piece on one of the bar's two edges, as the plan places it."""
    section = group.mitre
    if section is None or not bar.cuts:
        return
    half = Fraction(section.width, 2)
    kerf = group.saw.kerf
    behind: tuple[Bounds, Bounds, Fraction] | None = None
    for cut in bar.cuts:
        starts = _edges(cut.face - cut.length, cut.slope_start, half)
        ends = _edges(cut.face, cut.slope_end, half)
        if behind is not None:
            upper, lower, slope = behind
            needed = kerf * sec_of(max(abs(slope), abs(cut.slope_start)))[0]
            for (_, before), (start, _) in ((upper, starts[0]), (lower, starts[1])):
                # Only what is certain is reported; a plan's own rounding is up, by a nanometre a term.
                if start - before + 2 < needed:
                    yield Violation(
                        "stroke-through-piece",
                        f"bar {bar.number}",
                        f"bar {bar.number} ({group.material}): on one edge the stroke before {cut.piece} "
                        f"has {in_mm(int(start - before))}, it takes {in_mm(ceil(needed))}.",
                    )
                    break
        elif min(start for start, _ in starts) < -2:
            yield Violation(
                "stroke-through-piece",
                f"bar {bar.number}",
                f"bar {bar.number} ({group.material}): {cut.piece} would start before the first clean face.",
            )
        behind = (ends[0], ends[1], cut.slope_end)


def _edges(middle: int, slope: Fraction, half: Fraction) -> tuple[Bounds, Bounds]:
    """Bound where a face meets the upper and the lower edge."""
    low, high = lean(slope)
    return (middle + half * low, middle + half * high), (middle - half * high, middle - half * low)


def mitre_violations(plan: Plan) -> Iterator[Violation]:
    """Give the pieces whose slopes or lengths are not their runs', and those lying as they must not."""
    runs = {(run.job, run.id): run for run in plan.request.runs}
    families = {family.name: family for family in plan.request.families}
    pieces = {piece.id: piece for piece in plan.pieces}
    for piece in plan.pieces:
        run = runs.get((piece.job, piece.run))
        faces = _faces(run) if run and run.mitres else (Fraction(0), Fraction(0))
        if (piece.slope_left, piece.slope_right) != faces or piece.mitred is not bool(run and run.mitres):
            yield Violation(
                "piece-slopes",
                f"piece {piece.id}",
                f"Piece {piece.id} has slopes {piece.slope_left} and {piece.slope_right}, its run asks for "
                f"{faces[0]} and {faces[1]}.",
            )
    for group in plan.groups:
        sloped = [cut for bar in group.bars for cut in bar.cuts if cut.sloped]
        if group.mitre is None:
            for cut in sloped:
                yield Violation(
                    "no-section",
                    f"piece {cut.piece}",
                    f"{group.material}: {cut.piece} is mitred, but the plan names no section.",
                )
            continue
        yield from _section(group, families.get(group.material.family))
        for bar in group.bars:
            for cut in bar.cuts:
                named = pieces.get(cut.piece)
                if named is not None:
                    yield from _lies(group.mitre, runs.get((named.job, named.run)), named, cut)


def _section(group: GroupPlan, family: Family | None) -> Iterator[Violation]:
    section = group.mitre
    if section is None or family is None:
        return
    width = family.width if section.plane is MitrePlane.FLAT else family.height
    if (section.width, section.symmetric) != (width, family.symmetric):
        yield Violation(
            "section",
            f"material {group.material}",
            f"{group.material}: its mitres are planned on another section than the catalogue's.",
        )


def _lies(section: MitreSection, run: Run | None, piece: Piece, cut: Cut) -> Iterator[Violation]:
    left, right = piece.slope_left, piece.slope_right
    due: Faces = (left, right)
    if cut.turned:
        due = (right, left) if section.plane is MitrePlane.FLAT else (-right, -left)
    where = f"piece {piece.id}"
    if cut.turned and not section.symmetric:
        yield Violation(
            "turned", where, f"Piece {piece.id} is turned end for end; its section is not symmetric."
        )
    if (cut.slope_start, cut.slope_end) != due or cut.long_point != piece.long_point:
        yield Violation(
            "cut-slopes",
            where,
            f"Piece {piece.id} is cut with slopes {cut.slope_start} and {cut.slope_end}; as it lies it needs "
            f"{due[0]} and {due[1]}, and its long point as listed.",
        )
    if run is not None and run.plane not in (None, section.plane):
        yield Violation(
            "mitre-plane", where, f"Piece {piece.id} is mitred {run.plane}, the bar {section.plane.value}."
        )


def _faces(run: Run) -> Faces:
    """Give the slopes of a run's faces: inside corners lean inward from the long edge, outside ones out."""

    def size(mitre: Mitre | None) -> Fraction:
        if mitre is None:
            return Fraction(0)
        return -mitre.angle if mitre.outside else mitre.angle

    return size(run.mitre_left), -size(run.mitre_right)


def mitred_due(run: Run, family: Family, piece: Piece, cap: int, step: int) -> Iterator[Violation]:
    """Hold a mitred channel or cover to its run: long point from the size given, centre line from that."""
    width = family.width if run.plane is MitrePlane.FLAT else family.height
    left, right = _faces(run)
    one, other = lean(left), lean(right)
    shift_low = max(other[0] - one[1], one[0] - other[1], Fraction(0)) * Fraction(width, 2)
    shift_high = max(other[1] - one[0], one[1] - other[0]) * Fraction(width, 2)
    if left == right:
        shift_low = shift_high = Fraction(0)
    where = f"piece {piece.id}"
    long_point = piece.long_point
    if long_point is None:
        yield Violation("piece-slopes", where, f"Piece {piece.id}: its long point is not given.")
        return
    if piece.material.part is Part.CHANNEL:
        times = {LengthKind.CENTRE_LINE: 1, LengthKind.SHORT_POINT: 2}.get(run.kind, 0)
        low = run.length + times * shift_low - cap
        high = run.length + times * shift_high - cap + 1
        if not low - Fraction(step, 2) <= long_point <= high + Fraction(step, 2):
            yield Violation(
                "piece-length",
                where,
                f"Piece {piece.id}: its long point is {in_mm(long_point)}, by the run it has to be "
                f"{in_mm(ceil(low))}.",
            )
    if not long_point - shift_high <= piece.length < long_point - shift_low + 1:
        yield Violation(
            "piece-length",
            where,
            f"Piece {piece.id}: the centre line of a long point of {in_mm(long_point)} is not "
            f"{in_mm(piece.length)}.",
        )


def lit_room(run: Run, family: Family, long_point: int) -> Bounds:
    """
    Bound the room for strip in a mitred run, clearances taken off.

    To the short point; with a strip of known width along the centre line, to where the strip's own
    corner would meet the mitre.
    """
    width = family.width if run.plane is MitrePlane.FLAT else family.height
    left, right = _faces(run)
    one, other = lean(left), lean(right)
    noses = noses_length(family, run.left, run.right)
    apart = (Fraction(0), Fraction(0))
    if left != right:
        apart = (max(other[0] - one[1], one[0] - other[1]), max(other[1] - one[0], one[1] - other[0]))
    if not family.strip_width:
        clear = family.strip_feed + family.strip_tail + noses
        return long_point - width * apart[1] - clear, long_point - width * apart[0] - clear
    centre = (long_point - Fraction(width, 2) * apart[1], long_point - Fraction(width, 2) * apart[0])
    ways = []
    for first, last in ((family.strip_feed, family.strip_tail), (family.strip_tail, family.strip_feed)):
        less = sum(
            max(clearance, ceil(Fraction(family.strip_width, 2) * tan_of(slope)[1])) if slope else clearance
            for clearance, slope in ((first, left), (last, right))
        )
        ways.append((centre[0] - less - noses, centre[1] - less - noses))
    return min(low for low, _ in ways), max(high for _, high in ways)
