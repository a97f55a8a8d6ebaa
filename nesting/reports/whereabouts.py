"""Where everything is: the bar of a piece, the source of a bar, the offcuts used, born and untouched."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.made import BarState
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar, TailFate
from nesting.domain.runs import Place
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
    """Give every bar with its group, in the order of the bars' numbers within their groups."""
    return tuple((group, bar) for group in plan.groups for bar in group.bars)


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
    """Give the rack's offcuts that the plan cuts, with their bars."""
    rack = {offcut.tag: offcut for offcut in plan.request.offcuts}
    return tuple(
        (rack[bar.source], bar) for _, bar in bars_in_order(plan) if bar.offcut and bar.source in rack
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


def numbers_words(numbers: tuple[int, ...]) -> str:
    """Give ascending bar numbers as a short list, e.g. ``1-3, 7``."""
    spans: list[list[int]] = []
    for number in numbers:
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in spans)


def room_words(place: Place) -> str:
    """Give the part of a place that goes on a label: unit, room and spot, else the floor."""
    return " / ".join(p for p in (place.unit, place.room, place.spot) if p) or place.floor or place.building
