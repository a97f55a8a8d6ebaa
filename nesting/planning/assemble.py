"""From anonymous patterns to numbered bars, each cut with the piece it frees."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from nesting.domain.mitre import MitreSection
from nesting.domain.packing import Packing, PatternUse, remainder
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, PlannedBar, TailFate, Totals
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.errors import SolverFault
from nesting.planning.group import Group
from nesting.planning.mitred_bar import mitred_bar
from nesting.planning.mitred_layout import lay
from nesting.planning.sequence import cut_order, held_cuts
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True)
class Assembly:
    """Bars of one group in cutting order, and the pieces the stock could not give."""

    bars: tuple[PlannedBar, ...]
    short: tuple[Piece, ...]


def assemble(
    group: Group,
    packing: Packing,
    *,
    first_number: int,
    tag_prefix: str,
    order: Sequence[PatternUse] | None = None,
) -> Assembly:
    """
    Turn a group's packing into concrete bars.

    Pieces of one length are handed out in the group's order, so the units that come first are finished
    first.

    Parameters
    ----------
    first_number
        Number of the group's first bar.
    tag_prefix
        Tags of new offcuts are ``<tag_prefix>-<bar number>``.
    order
        The packing's bars in the order in which to cut them; None: as `cutting_order` has them.
    """
    if group.mitre is not None:
        return _assemble_mitred(group, group.mitre, packing, first_number, tag_prefix)
    waiting: dict[Length, deque[Piece]] = {length: deque() for length in group.problem.lengths}
    for piece in group.pieces:
        waiting[piece.length].append(piece)
    bars: list[PlannedBar] = []
    for use in cutting_order(group, packing) if order is None else order:
        kind = group.problem.bars[use.bar]
        lengths = [group.problem.lengths[i] for i, n in use.pieces for _ in range(n)]
        in_order = [lengths[i] for i in cut_order(lengths, kind.length, kind.head, group.saw)]
        rest = remainder(group.problem, use.bar, use.pieces)
        for _ in range(use.times):
            number = first_number + len(bars)
            pieces = [waiting[length].popleft() for length in in_order]
            bars.append(sawn_bar(number, kind, pieces, rest, group.saw, f"{tag_prefix}-{number}"))
    short = tuple(piece for queue in waiting.values() for piece in queue)
    return Assembly(tuple(bars), short)


def cutting_order(group: Group, packing: Packing) -> tuple[PatternUse, ...]:
    """
    Give the patterns in the order in which they are cut when nothing else is asked for.

    Offcuts come first, then new bars, longest first piece first; bars of one pattern stay together so
    that the stops do.
    """
    return tuple(sorted(packing.uses, key=lambda use: _bar_order(group, use)))


def _assemble_mitred(
    group: Group, section: MitreSection, packing: Packing, first_number: int, tag_prefix: str
) -> Assembly:
    layout = lay(group, packing)
    if layout is None:
        raise SolverFault(f"{group.material}: a bar cannot hold the mitred pieces it was given.")
    bars = tuple(
        mitred_bar(number, group.problem.bars[one.bar], one, section, group.saw, f"{tag_prefix}-{number}")
        for number, one in enumerate(layout.bars, first_number)
    )
    return Assembly(bars, layout.short)


def account(bars: Sequence[PlannedBar]) -> Totals:
    """Give the metal account of some bars; used = good + kerf + trim + returned + scrap."""
    return Totals(
        bars=len(bars),
        used=sum(bar.length for bar in bars),
        good=sum(cut.length for bar in bars for cut in bar.good_cuts),
        kerf=sum(bar.kerf_loss for bar in bars),
        trim=sum(bar.head for bar in bars),
        returned=sum(bar.returned for bar in bars),
        scrap=sum(bar.scrap for bar in bars),
    )


def _bar_order(group: Group, use: PatternUse) -> tuple[bool, list[int], int, PatternUse]:
    kind = group.problem.bars[use.bar]
    longest_first = [-group.problem.lengths[i] for i, n in use.pieces for _ in range(n)]
    return (not kind.offcut, longest_first, use.bar, use)


def sawn_bar(
    number: int, kind: BarKind, pieces: Sequence[Piece], rest: Length, saw: SawRules, tag: str
) -> PlannedBar:
    """
    Give one bar with its cuts, faces, strokes and tail.

    Parameters
    ----------
    pieces
        In saw order.
    rest
        What stands behind the last piece before its stroke.
    tag
        Tag for the tail, should it be long enough to keep.
    """
    held = held_cuts([piece.length for piece in pieces], kind.length, kind.head, saw)
    cuts: list[Cut] = []
    face = 0
    for piece, safe in zip(pieces, held, strict=True):
        face += piece.length
        cuts.append(Cut(piece=piece.id, length=piece.length, face=Length(face), held=safe))
        face += saw.kerf
    # The last piece needs a stroke of its own unless it ends exactly at the bar's end.
    last_stroke = rest > 0
    tail = Length(max(rest - saw.kerf, 0))
    fate = TailFate.NONE
    if tail:
        fate = TailFate.OFFCUT if tail >= saw.keep_length else TailFate.SCRAP
    return PlannedBar(
        number=number,
        source=kind.key,
        offcut=kind.offcut,
        length=kind.length,
        head=kind.head,
        tail_loss=kind.tail,
        cuts=tuple(cuts),
        strokes=int(kind.head > NO_LENGTH) + len(pieces) - 1 + int(last_stroke),
        kerf_loss=Length((len(pieces) - 1) * saw.kerf + min(rest, saw.kerf)),
        tail=tail,
        fate=fate,
        tail_tag=tag if fate is TailFate.OFFCUT else "",
        sliver=0 < rest < saw.kerf,
    )
