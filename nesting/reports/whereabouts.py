"""Where everything is: the bar of a piece, the source of a bar, the offcuts used, born and untouched."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.made import BarState
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar, TailFate
from nesting.domain.stock import Offcut
from nesting.reports.lengths import METRIC, BothUnits


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a piece is sawn: group, bar, and its cut, ``order`` counted from 1."""

    group: GroupPlan
    bar: PlannedBar
    order: int
    cut: Cut


def spots(plan: Plan) -> dict[str, Spot]:
    """Give the spot of every placed piece by its id; where one came out wrong is not its spot."""
    return {
        cut.piece: Spot(group, bar, order, cut)
        for group in plan.groups
        for bar in group.bars
        for order, cut in enumerate(bar.cuts, start=1)
        if cut in bar.good_cuts
    }


def pieces_by_id(plan: Plan) -> dict[str, Piece]:
    """Give every piece of the plan by its id."""
    return {piece.id: piece for piece in plan.pieces}


def bars_in_order(plan: Plan) -> tuple[tuple[GroupPlan, PlannedBar], ...]:
    """Give every bar with its group, in the order in which the bars of a group are cut."""
    return tuple((group, bar) for group in plan.groups for bar in group.bars)


def bars_to_cut(group: GroupPlan) -> tuple[PlannedBar, ...]:
    """Give the bars of a material that still are to be cut: nothing else belongs in a saw's hands."""
    return tuple(bar for bar in group.bars if not bar.state.cut)


def cut_already_words(plan: Plan) -> str:
    """Say which bars are cut and therefore in no cut list, and which are frozen; empty in a first plan."""
    bars = [bar for _, bar in bars_in_order(plan)]
    cut = tuple(sorted(bar.number for bar in bars if bar.state.cut))
    frozen = tuple(sorted(bar.number for bar in bars if bar.state is BarState.FROZEN))
    said = [f"Cut already and not in these lists: {_named(cut)}."] if cut else []
    said += [f"Frozen, the same as on the lists before: {_named(frozen)}."] if frozen else []
    return " ".join(said)


def _named(numbers: tuple[int, ...]) -> str:
    return f"bar{'s' if len(numbers) > 1 else ''} {numbers_words(numbers)}"


def source_words(plan: Plan, bar: PlannedBar, lengths: BothUnits = METRIC) -> str:
    """Say where a bar comes from, new or which offcut from which place, and whether it is cut already."""
    state = f", {bar.state.value.upper()}" if bar.state is not BarState.OPEN else ""
    if not bar.offcut:
        return f"new bar {lengths.said(bar.length)}{state}"
    offcut = next((o for o in plan.request.offcuts if o.tag == bar.source), None)
    place = f", rack {offcut.place}" if offcut and offcut.place else ""
    return f"offcut {bar.source}{place}, {lengths.said(bar.length)}{state}"


def tail_words(bar: PlannedBar, lengths: BothUnits = METRIC) -> str:
    """Say what is left of a bar and what becomes of it."""
    if bar.zones:
        return f"{len(bar.zones)} clear stretch{'es' if len(bar.zones) > 1 else ''} left"
    if not bar.tail_left:
        return "no tail"
    length = f"tail {lengths.said(bar.tail_left)}"
    if bar.fate is TailFate.OFFCUT:
        return (
            f"{length}, back to the rack as {bar.tail_tag}" if bar.tail_tag else f"{length}, back to the rack"
        )
    return f"{length}, scrap"


def used_offcuts(plan: Plan) -> tuple[tuple[Offcut, PlannedBar], ...]:
    """Give the rack's offcuts that are still to be cut, with their bars."""
    rack = {offcut.tag: offcut for offcut in plan.request.offcuts}
    return tuple(
        (rack[bar.source], bar)
        for group in plan.groups
        for bar in bars_to_cut(group)
        if bar.offcut and bar.source in rack
    )


def untouched_offcuts(plan: Plan) -> tuple[Offcut, ...]:
    """Give the rack's offcuts that stay where they are."""
    used = {bar.source for _, bar in bars_in_order(plan) if bar.offcut}
    return tuple(offcut for offcut in plan.request.offcuts if offcut.tag not in used)


def born_offcuts(plan: Plan) -> tuple[tuple[GroupPlan, PlannedBar], ...]:
    """Give the bars still to be cut whose tail goes back to the rack; those of cut bars are on it."""
    return tuple(
        (group, bar)
        for group, bar in bars_in_order(plan)
        if bar.fate is TailFate.OFFCUT and not bar.state.cut
    )


def fresh_offcuts(plan: Plan) -> tuple[tuple[GroupPlan, PlannedBar, Offcut], ...]:
    """
    Give the offcuts that came about at the saw by the last report, with the bar each came from.

    Spoiled pieces and clear stretches of damaged bars have tags that nobody has printed yet; the tails'
    tags were printed with the plan before.
    """
    rack = {offcut.tag: offcut for offcut in plan.request.offcuts}
    prefix = f"{plan.follows[:6].upper()}-"
    return tuple(
        (group, bar, rack[tag])
        for group, bar in bars_in_order(plan)
        for tag in (*(one.tag for one in bar.spoiled), *(zone.tag for zone in bar.zones))
        if plan.follows and tag in rack and tag.startswith(prefix)
    )


def numbers_words(numbers: tuple[int, ...]) -> str:
    """Give ascending bar numbers as a short list, e.g. ``1-3, 7``."""
    spans: list[list[int]] = []
    for number in numbers:
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in spans)
