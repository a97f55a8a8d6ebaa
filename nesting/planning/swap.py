"""Exchanges of one piece for another on an open bar, so that a piece that came back needs no new bar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nesting.domain.goals import Slivers
from nesting.domain.pieces import Piece
from nesting.domain.plan import PlannedBar
from nesting.domain.rules import SawRules
from nesting.planning.group import Group
from nesting.planning.rest import rest_behind, rest_number
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True)
class Swap:
    """Piece ``out`` leaves an open bar for a spoiled piece, an offcut or a tail; ``into`` takes its place."""

    bar: int
    out: Piece
    into: Piece


def swaps(group: Group, bars: Sequence[PlannedBar], pieces: Mapping[str, Piece], saw: SawRules) -> list[Swap]:
    """
    Give the exchanges that may save a new bar, the longest homeless piece first.

    One for each pair of lengths: on the bar it fills best.

    Parameters
    ----------
    group
        What came back, and the bars it may be cut from.
    bars
        Open bars of the group's material.
    """
    if group.mitre is not None:
        return []  # exchanging pieces of other slopes would move every face behind them
    best: dict[tuple[Length, Length], tuple[Length, Swap]] = {}
    forbidden = group.goals.slivers is Slivers.FORBID
    for bar in bars:
        lengths = [cut.length for cut in bar.cuts]
        rest = rest_behind(bar, lengths, saw)
        home = max(
            (k.usable for k in group.problem.bars if k.offcut and rest_number(k.key) != bar.number),
            default=NO_LENGTH,
        )
        for cut in bar.cuts:
            if cut.length > home:
                continue
            for into in group.pieces:
                left = Length(rest + cut.length - into.length)
                if into.length == cut.length or left < bar.tail_loss:
                    continue
                if forbidden and 0 < left < saw.kerf:
                    continue
                key = (into.length, cut.length)
                if key not in best or left < best[key][0]:
                    best[key] = (left, Swap(bar.number, pieces[cut.piece], into))
    return [best[key][1] for key in sorted(best, key=lambda key: (-key[0], -key[1]))]
