"""One bar of mitred pieces as it is sawn: faces, strokes and tail along the centre line."""

from __future__ import annotations

from fractions import Fraction

from nesting.domain.mitre import MitreSection
from nesting.domain.packing import Packing
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.planning.group import Group
from nesting.planning.mitred import section_of
from nesting.planning.mitred_layout import Laid, lay
from nesting.takeoff.mitres import end_extra, neighbour_gap, saw_take, tip_length
from nesting.units import NO_LENGTH, Length


def mitred_bar(
    number: int, kind: BarKind, laid: Laid, section: MitreSection, saw: SawRules, tag: str
) -> PlannedBar:
    """
    Give one bar of mitred pieces with its cuts, faces, strokes and tail.

    Everything counts along the centre line, each term rounded up to a nanometre: piece, gap, and the
    tip that stands out at either end. What is neither trim, piece nor tail counts with the strokes,
    wedges included. A tail is as long as its shortest edge: its near end stays sloped like the last face.
    """
    faces = laid.chain.faces
    first, last = faces[0][0], faces[-1][1]
    at = int(tip_length(section, first)) + (end_extra(saw.kerf, first) if kind.head else 0)
    cuts: list[Cut] = []
    strokes = int(kind.head > NO_LENGTH or first != 0)
    for place, ((piece, turn), (start, end)) in enumerate(zip(laid.links, faces, strict=True)):
        at += piece.length
        cuts.append(
            Cut(
                piece=piece.id,
                length=piece.length,
                face=Length(at),
                held=_held(kind, saw, section, piece, at, end),
                long_point=piece.long_point,
                slope_start=start,
                slope_end=end,
                turned=turn,
            )
        )
        if place + 1 < len(faces):
            following = faces[place + 1][0]
            at += neighbour_gap(section, saw.kerf, end, following)
            strokes += 1 if end == following else 2
    rest = kind.length - kind.head - at - tip_length(section, last)
    take = saw_take(saw.kerf, last)
    tail = Length(max(rest - take, 0))
    fate = TailFate.NONE
    if tail:
        fate = TailFate.OFFCUT if tail >= saw.keep_length else TailFate.SCRAP
    good = sum(cut.length for cut in cuts)
    return PlannedBar(
        number=number,
        source=kind.key,
        offcut=kind.offcut,
        length=kind.length,
        head=kind.head,
        tail_loss=kind.tail,
        cuts=tuple(cuts),
        strokes=strokes + int(rest > 0 or last != 0),
        kerf_loss=Length(kind.length - kind.head - good - tail),
        tail=tail,
        fate=fate,
        tail_tag=tag if fate is TailFate.OFFCUT else "",
        sliver=0 < rest < take,
    )


def laid_slivers(group: Group, packing: Packing) -> int:
    """Give the number of bars whose last stroke has less metal than it takes, as they are laid."""
    layout = lay(group, packing)
    if layout is None:
        return 0
    section = section_of(group)
    kinds = group.problem.bars
    return sum(mitred_bar(0, kinds[one.bar], one, section, group.saw, "").sliver for one in layout.bars)


def _held(
    kind: BarKind, saw: SawRules, section: MitreSection, piece: Piece, face: int, end: Fraction
) -> bool:
    left = kind.length - kind.head - face - tip_length(section, end) - saw_take(saw.kerf, end)
    # The shorter edge is what a hand or clamp has to hold: short + long point = 2 x centre line.
    shorter = 2 * piece.length - piece.stop
    return left >= saw.grip or shorter >= saw.grip
