"""
What the shop has made already: whether it adds up, and whether nothing that was asked for got lost.

Ordered = done + planned + short, piece by piece; cut and frozen bars stay as they were.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.made import TAPE, BarState, over_measure
from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, Plan, PlannedBar, TailFate
from nesting.domain.stock import EndState, Offcut
from nesting.verify.violation import Violation, in_mm
from nesting.verify.walk import name_of, walk


@dataclass(frozen=True, slots=True)
class Balance:
    """Pieces ordered, and how many of them are cut, still planned, and left out for want of stock."""

    ordered: int
    done: int
    planned: int
    short: int

    @property
    def holds(self) -> bool:
        """Whether ordered = done + planned + short."""
        return self.ordered == self.done + self.planned + self.short


def balance_of(plan: Plan) -> Balance:
    """Count what was ordered, and what became of it, from the bars and the list of pieces left out."""
    done = planned = 0
    for group in plan.groups:
        for bar in group.bars:
            bad = {one.piece for one in bar.spoiled}
            good = sum(cut.piece not in bad for cut in bar.cuts)
            done += good if bar.state.cut else 0
            planned += 0 if bar.state.cut else good
    short = sum(1 for one in plan.unplaced if one.piece)
    return Balance(len(plan.pieces), done, planned, short)


def replanned_violations(plan: Plan) -> Iterator[Violation]:
    """Give what is wrong with the bars the shop reported, and whether any piece was lost or doubled."""
    balance = balance_of(plan)
    if not balance.holds:
        yield Violation(
            "demand-not-conserved",
            "plan",
            f"{balance.ordered} pieces are ordered, but {balance.done} are done, {balance.planned} planned "
            f"and {balance.short} left out.",
        )
    for group in plan.groups:
        for bar in group.bars:
            if not bar.state.cut:
                yield from _not_cut_yet(group, bar)
            else:
                yield from _spoiled(group, bar)
                yield from (_done(group, bar) if bar.state is BarState.DONE else _stopped(group, bar))
    yield from _offcuts(plan)
    if bool(plan.follows) != bool(plan.revision):
        yield Violation(
            "revision",
            "plan",
            f"Revision {plan.revision} follows {'plan ' + plan.follows if plan.follows else 'no plan'}.",
        )


def succession_violations(before: Plan, after: Plan) -> Iterator[Violation]:
    """Give what a plan that follows another one has changed of what may not change any more."""
    if (after.follows, after.revision) != (before.id, before.revision + 1):
        yield Violation(
            "revision",
            "plan",
            f"Plan {after.id} says it follows {after.follows or 'no plan'}, not {before.id}.",
        )
    if after.pieces != before.pieces:
        yield Violation("demand-changed", "plan", f"Plan {after.id} asks for other pieces than {before.id}.")
    now = {bar.number: (group, bar) for group in after.groups for bar in group.bars}
    rack = {offcut.tag for offcut in after.request.offcuts}
    for group in before.groups:
        for bar in group.bars:
            if bar.state is BarState.OPEN:
                continue
            if bar.offcut and not bar.state.cut and bar.source not in rack:
                continue  # frozen, but its offcut was not found
            found = now.get(bar.number)
            same = found is not None and _fixed(found[0].material, found[1]) == _fixed(group.material, bar)
            if found is None or not (same or (found[1].state is BarState.STOPPED and not bar.state.cut)):
                yield Violation(
                    "bar-moved",
                    f"bar {bar.number}",
                    f"{name_of(group, bar)} is {bar.state.value}, yet it is not the same any more.",
                )


def metal_of_cut(group: GroupPlan, bar: PlannedBar) -> dict[str, int]:
    """Count the metal of a bar the shop has cut, by its planned lengths: where each nanometre goes."""
    lengths = {cut.piece: int(cut.length) for cut in bar.cuts}
    bad = {one.piece: one for one in bar.spoiled}
    good = sum(length for piece, length in lengths.items() if piece not in bad)
    returned = sum(lengths.get(one.piece, 0) for one in bar.spoiled if one.tag)
    if bar.state is BarState.STOPPED:
        returned += sum(zone.length for zone in bar.zones if zone.tag)
        chips = group.saw.kerf * (len(bar.cuts) + _edges(group, bar))
    else:
        true = walk(bar, group.saw, group.mitre)
        left = true.tail if bar.true_tail is None else bar.true_tail
        returned += true.tail if left > 0 and left >= group.saw.keep_length else 0
        chips = true.chips
    scrap = bar.length - bar.head - good - chips - returned
    return {"good": good, "kerf": chips, "returned": returned, "scrap": scrap}


def born_tags(plan: Plan) -> Iterator[str]:
    """Give the tags that the cut bars of a plan have brought to the rack."""
    for group in plan.groups:
        for bar in group.bars:
            if bar.state.cut:
                yield from (tag for tag, _, _ in _born(bar))


def _fixed(material: Material, bar: PlannedBar) -> tuple[object, ...]:
    return (material, bar.source, bar.length, bar.cuts)


def _edges(group: GroupPlan, bar: PlannedBar) -> int:
    """Count the strokes that part the clear stretches from the damaged ones."""
    begin = _behind_cuts(group, bar)
    return sum((z.start != begin) + (z.start + z.length != bar.length) for z in bar.zones)


def _behind_cuts(group: GroupPlan, bar: PlannedBar) -> int:
    """Give where the blade stands behind the last cut of a stopped bar, from the bar's leading end."""
    return bar.head + sum(cut.length + group.saw.kerf for cut in bar.cuts) if bar.cuts else 0


def _not_cut_yet(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    if bar.true_tail is not None or bar.spoiled or bar.defects or bar.zones or bar.short:
        yield Violation(
            "not-cut-yet",
            f"bar {bar.number}",
            f"{name_of(group, bar)} is {bar.state.value}, yet something is said to have come out of it.",
        )


def _spoiled(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    cut = Counter(one.piece for one in bar.cuts)
    for one in bar.spoiled:
        if not cut[one.piece]:
            yield Violation(
                "spoiled-unknown",
                f"piece {one.piece}",
                f"{name_of(group, bar)}: {one.piece} is said to be spoiled, but is not cut from it.",
            )
        if one.tag and one.length is None:
            yield Violation(
                "spoiled-length",
                f"piece {one.piece}",
                f"{name_of(group, bar)}: what came out of {one.piece} has a tag but no length.",
            )
    if len({one.piece for one in bar.spoiled}) < len(bar.spoiled):
        yield Violation(
            "spoiled-twice", f"bar {bar.number}", f"{name_of(group, bar)}: a piece is spoiled twice."
        )


def _done(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    """
    Hold a measured tail to what the bar can have left: as planned, or longer by its over-measure.

    A bar that the shop found short may have left less.
    """
    if bar.defects or bar.zones:
        yield Violation(
            "done-with-zones", f"bar {bar.number}", f"{name_of(group, bar)} is done, yet divided by damage."
        )
    if bar.true_tail is None:
        return
    lengths = {cut.piece: int(cut.length) for cut in bar.cuts}
    true = walk(bar, group.saw, group.mitre)
    least = most = true.tail
    for one in bar.spoiled:
        planned = lengths.get(one.piece, 0)
        if one.length is None:
            # Nobody knows what is left of it: all of it may be in the tail, or more may be gone.
            most += planned + group.saw.kerf
            least = 0
        else:
            least, most = least + planned - one.length, most + planned - one.length
    least = 0 if bar.short else least
    slack = TAPE + len(bar.cuts) * group.saw.step
    most += slack + (0 if bar.offcut else over_measure(bar.length))
    if not max(least - slack, 0) <= bar.true_tail <= max(most, 0):
        yield Violation(
            "measured-tail",
            f"bar {bar.number}",
            f"{name_of(group, bar)}: a tail of {in_mm(bar.true_tail)} was measured; by its cuts it is "
            f"{in_mm(max(least - slack, 0))} to {in_mm(max(most, 0))}.",
        )


def _stopped(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    """Walk a bar that was given up: its cuts, then only clear metal, each edge at the cost of a stroke."""
    name, where = name_of(group, bar), f"bar {bar.number}"
    kerf = group.saw.kerf
    face = 0
    for cut in bar.cuts:
        face += cut.length
        if cut.face != face:
            yield Violation("face-position", where, f"{name}: {cut.piece} ends at {in_mm(face)}.")
        face += kerf
    at = _behind_cuts(group, bar)
    if at - kerf > bar.length:
        yield Violation("does-not-fit", where, f"{name}: its cuts are longer than the bar.")
    if bar.tail or bar.tail_tag or bar.fate is not TailFate.NONE:
        yield Violation("tail", where, f"{name} was stopped; what is left of it are its clear stretches.")
    if bar.strokes != (bar.head > 0) + len(bar.cuts) + _edges(group, bar):
        yield Violation("strokes", where, f"{name}: its strokes are not counted right.")
    if bar.kerf_loss != kerf * (len(bar.cuts) + _edges(group, bar)):
        yield Violation("kerf-loss", where, f"{name}: its chips are not those of its strokes.")
    for zone in bar.zones:
        end = zone.start + zone.length
        free = all(end + kerf <= d.start or zone.start >= d.end + kerf for d in bar.defects)
        if zone.start < at or zone.length <= 0 or end > bar.length or not free:
            yield Violation(
                "zone",
                where,
                f"{name}: the stretch from {in_mm(zone.start)} to {in_mm(end)} is damaged, cut already, or "
                "leaves no room for the stroke that parts it.",
            )
        at = end
    if bar.true_tail is not None and (bar.defects or len(bar.zones) != 1):
        yield Violation("measured-tail", where, f"{name}: one measured rest cannot stand for all stretches.")


def _born(bar: PlannedBar) -> list[tuple[str, int, tuple[EndState, EndState]]]:
    """List what a cut bar gave: tag, length, ends."""
    far = EndState.RAW if bar.tail_loss > 0 else EndState.CLEAN
    given = []
    if bar.fate is TailFate.OFFCUT:
        left = bar.tail if bar.true_tail is None else bar.true_tail
        given.append((bar.tail_tag, int(left), (EndState.CLEAN, far)))
    for one in bar.spoiled:
        if one.tag:
            given.append((one.tag, int(one.length or 0), (EndState.CLEAN, EndState.CLEAN)))
    for zone in bar.zones:
        if zone.tag:
            length = zone.length if bar.true_tail is None else bar.true_tail
            near = EndState.RAW if not zone.start and bar.tail_loss > 0 else EndState.CLEAN
            end = far if zone.start + zone.length == bar.length else EndState.CLEAN
            given.append((zone.tag, int(length), (near, end)))
    return given


def _offcuts(plan: Plan) -> Iterator[Violation]:
    """Hold every offcut that the cut bars gave to what they can have given."""
    listed = {offcut.tag: offcut for offcut in plan.request.offcuts}
    for group in plan.groups:
        for bar in group.bars:
            if not bar.state.cut:
                continue
            for tag, length, ends in _born(bar):
                offcut = listed.get(tag)
                # It may be lost since; then nothing can be cut from it either.
                if offcut is not None and not _as_born(offcut, group.material, length, ends):
                    yield Violation(
                        "offcut-born",
                        f"offcut {tag}",
                        f"Offcut {tag} came from {name_of(group, bar)} with {in_mm(length)}; it is listed "
                        f"otherwise, with {in_mm(offcut.length)}.",
                    )


def _as_born(offcut: Offcut, material: Material, length: int, ends: tuple[EndState, EndState]) -> bool:
    same = (offcut.family, offcut.finish, offcut.part) == (material.family, material.finish, material.part)
    in_lot = not material.lot or offcut.lot == material.lot
    # A raw end more than expected only costs a trim.
    no_cleaner = [offcut.left, offcut.right].count(EndState.RAW) >= ends.count(EndState.RAW)
    return same and in_lot and offcut.length == length and no_cleaner
