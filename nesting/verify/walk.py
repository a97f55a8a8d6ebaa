"""The saw walked along one bar, from the raw end to the far end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.made import BarState
from nesting.domain.mitre import MitreSection
from nesting.domain.plan import GroupPlan, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.verify.mitred import edge_violations, walk_mitred
from nesting.verify.violation import Violation, in_mm


@dataclass(frozen=True, slots=True)
class Walked:
    """
    What the saw does to one bar, found by moving the blade stroke by stroke.

    Parameters
    ----------
    faces
        Far face of each piece, from the first clean face, nanometres.
    held
        Whether each cut can be held.
    strokes
        Strokes with the head trim's.
    chips
        Metal the strokes behind the head trim turn into chips.
    rest
        What stands behind the last piece's face before its stroke; negative when the bar is too
        short.
    tail
        What is left behind the last stroke.
    take, tail_due
        What the last stroke takes along the bar, and what must stay behind the last face.
    """

    faces: tuple[int, ...]
    held: tuple[bool, ...]
    strokes: int
    chips: int
    rest: int
    tail: int
    take: int
    tail_due: int


def walk(bar: PlannedBar, saw: SawRules, section: MitreSection | None = None) -> Walked:
    """
    Cut a bar as the sheet says, piece after piece, and see where the blade comes out.

    Parameters
    ----------
    section
        The section at the mitres of a material that has some; all is then counted along the centre line.
    """
    if section is not None and bar.cuts:
        sloped = walk_mitred(bar, saw, section)
        return Walked(
            *(sloped.faces, sloped.held, sloped.strokes, sloped.chips, sloped.rest, sloped.tail),
            take=sloped.take,
            tail_due=sloped.tail_due,
        )
    strokes = 1 if bar.head > 0 else 0
    metal = bar.length - bar.head
    faces: list[int] = []
    held: list[bool] = []
    chips = 0
    blade = 0
    for position, cut in enumerate(bar.cuts, start=1):
        metal -= cut.length
        blade += cut.length
        faces.append(blade)
        # Holding what is left counts the metal behind this stroke, or the piece in front of it.
        held.append(metal - saw.kerf >= saw.grip or cut.length >= saw.grip)
        last = position == len(bar.cuts)
        if not last or metal > 0:
            strokes += 1
            eaten = saw.kerf if not last else min(saw.kerf, metal)
            chips += eaten
            if not last:
                metal -= saw.kerf
                blade += saw.kerf
    tail = metal - saw.kerf if metal > saw.kerf else 0
    return Walked(
        *(tuple(faces), tuple(held), strokes, chips, metal, tail), take=saw.kerf, tail_due=bar.tail_loss
    )


def name_of(group: GroupPlan, bar: PlannedBar) -> str:
    """Give the bar as the shop calls it: ``bar 17 (TOLV-17N natural channel)``."""
    return f"bar {bar.number} ({group.material})"


def bar_violations(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    """Give what is wrong with one bar's own figures: faces, fit, strokes, chips, tail, grip."""
    name, where = name_of(group, bar), f"bar {bar.number}"
    if bar.state is BarState.STOPPED:
        return  # what was made of it is looked at in `nesting.verify.replanned`
    if not bar.cuts:
        yield Violation("empty-bar", where, f"{name}: nothing is cut from it.")
        return
    true = walk(bar, group.saw, group.mitre)
    yield from edge_violations(group, bar)
    yield from _cuts(group, bar, true)
    if true.rest < true.tail_due:
        needed = bar.length - true.rest + true.tail_due
        yield Violation(
            "does-not-fit",
            where,
            f"{name}: head trim, pieces, strokes and tail loss come to {in_mm(needed)}, "
            f"the bar is {in_mm(bar.length)}.",
        )
    if bar.strokes != true.strokes:
        yield Violation(
            "strokes", where, f"{name}: {bar.strokes} strokes planned, {true.strokes} are needed."
        )
    if bar.kerf_loss != true.chips:
        yield Violation(
            "kerf-loss",
            where,
            f"{name}: chips of {in_mm(bar.kerf_loss)} are planned, the strokes make {in_mm(true.chips)}.",
        )
    if bar.tail != true.tail:
        yield Violation(
            "tail", where, f"{name}: the tail is {in_mm(bar.tail)} by the plan, {in_mm(true.tail)} is left."
        )
    sliver = 0 < true.rest < true.take
    if bar.sliver != sliver:
        yield Violation(
            "sliver",
            where,
            f"{name}: {in_mm(true.rest)} stands behind the last piece, a stroke takes "
            f"{in_mm(group.saw.kerf)}; the plan says {'a' if bar.sliver else 'no'} sliver.",
        )
    yield from _fate(group, bar, true.tail if bar.true_tail is None else bar.true_tail)


def _cuts(group: GroupPlan, bar: PlannedBar, true: Walked) -> Iterator[Violation]:
    name, where = name_of(group, bar), f"bar {bar.number}"
    for position, (cut, face, held) in enumerate(zip(bar.cuts, true.faces, true.held, strict=True)):
        if cut.face != face:
            following = bar.cuts[position + 1 : position + 2]
            start = f", the next starts at {in_mm(face + group.saw.kerf)}" if following else ""
            yield Violation(
                "face-position",
                where,
                f"{name}: {cut.piece} ends at {in_mm(face)}{start}; the plan puts its face at "
                f"{in_mm(cut.face)}.",
            )
        if cut.held != held:
            yield Violation(
                "held",
                where,
                f"{name}: {cut.piece} ({in_mm(cut.length)}) is marked {'' if cut.held else 'not '}safe to "
                f"hold, but by the grip of {in_mm(group.saw.grip)} it is {'' if held else 'not '}so.",
            )


def _fate(group: GroupPlan, bar: PlannedBar, tail: int) -> Iterator[Violation]:
    name, where = name_of(group, bar), f"bar {bar.number}"
    keep = group.saw.keep_length
    fate = TailFate.NONE if tail == 0 else TailFate.OFFCUT if tail >= keep else TailFate.SCRAP
    if bar.fate is not fate:
        yield Violation(
            "tail-fate",
            where,
            f"{name}: its tail of {in_mm(tail)} is planned as {bar.fate.value}; with a keep length of "
            f"{in_mm(keep)} it is {fate.value}.",
        )
    if bar.fate is TailFate.OFFCUT and not bar.tail_tag:
        yield Violation("tail-tag", where, f"{name}: its tail goes to the rack without a tag.")
    if bar.fate is not TailFate.OFFCUT and bar.tail_tag:
        yield Violation("tail-tag", where, f"{name}: tag {bar.tail_tag} is given out, but no offcut is born.")
