"""
Mitred pieces on bars: which lie behind each other so that one sloped stroke serves two.

The solver knows lengths alone. It is first asked with every piece at its centre line, the least that
any way of laying them takes; whatever bars it finds are then laid with real faces. Where one of its
bars cannot be laid, it is asked again with pieces tied into pairs that share a stroke, each as long
as it may be nested like a square piece; the first answer still bounds the cost.
"""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import combinations_with_replacement, product

from nesting.domain.mitre import SQUARE, MitredPiece, MitreSection
from nesting.domain.packing import Packing
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.problem import BarKind, Problem
from nesting.domain.rules import SawRules
from nesting.planning.group import Group, Links
from nesting.takeoff.mitre_order import Chain, best_chain, chain_of
from nesting.takeoff.mitres import (
    Faces,
    end_extra,
    neighbour_gap,
    saw_take,
    solver_length,
    tip_length,
    turned,
)
from nesting.units import NO_LENGTH, Length

_MOST_EXACT = 7  # 2^7 sets x 14 ways to end: a few milliseconds; longer bars are laid piece by piece
_MOST_CHOICES = 300
# Sloped lengths are seldom whole; the engine's tables grow with their finest unit, so it sees them in
# hundredths of a millimetre: single pieces rounded down (a bound stays a bound), chains up (what fits fits).
_UNIT = 10_000

Kind = tuple[Length, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Laid:
    """
    One bar's pieces in saw order.

    Parameters
    ----------
    bar
        Index into the problem's kinds of bar.
    links
        The pieces, each with whether it is turned end for end.
    chain
        Their faces and what they need of a bar.
    """

    bar: int
    links: Links
    chain: Chain


@dataclass(frozen=True, slots=True)
class Layout:
    """All bars of a packing laid, and the pieces the stock could not give."""

    bars: tuple[Laid, ...]
    short: tuple[Piece, ...]


def lay(group: Group, packing: Packing) -> Layout | None:
    """Lay every bar of a packing with real faces; None when one of them cannot hold its pieces."""
    return _lay_chains(group, packing) if group.chains else _lay_pieces(group, packing)


def tied(group: Group) -> Iterator[Group]:
    """
    Give the group with its pieces tied into chains, in several ways, as problems of chains.

    Pairs that share a stroke: longest with longest, longest with shortest; and every piece by itself.
    """
    singles = tuple(((piece, False),) for piece in group.pieces)
    for links in (_pairs(group, far=False), _pairs(group, far=True), singles):
        yield _with_chains(group, links)


def nested_length(piece: Piece) -> Length:
    """Give the length a piece has in a problem of centre lines: a mitred one's down to 0.01 mm."""
    return Length(piece.length // _UNIT * _UNIT) if piece.mitred else piece.length


def chain_needed(links: Links, section: MitreSection, kerf: Length) -> Length:
    """Give the length at which pieces tied together may be nested like one square piece."""
    chain = _measured(links, section, kerf, NO_LENGTH, NO_LENGTH)
    return solver_length(chain.length, chain.faces[0][0], chain.faces[-1][1], kerf)


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
    section = _section(group)
    kinds = group.problem.bars
    return sum(mitred_bar(0, kinds[one.bar], one, section, group.saw, "").sliver for one in layout.bars)


def widest_stroke(pieces: Sequence[Piece], kerf: Length) -> Length:
    """Give the most that a stroke at an end of any of these pieces takes of the bar."""
    slopes = {SQUARE, *(slope for piece in pieces for slope in (piece.slope_left, piece.slope_right))}
    return max(saw_take(kerf, slope) for slope in slopes)


def _held(
    kind: BarKind, saw: SawRules, section: MitreSection, piece: Piece, face: int, end: Fraction
) -> bool:
    left = kind.length - kind.head - face - tip_length(section, end) - saw_take(saw.kerf, end)
    # The shorter edge is what a hand or clamp has to hold: short + long point = 2 x centre line.
    shorter = 2 * piece.length - piece.stop
    return left >= saw.grip or shorter >= saw.grip


def _lay_pieces(group: Group, packing: Packing) -> Layout | None:
    """Hand real pieces to the bars of a packing of centre lines, the fullest bars first."""
    section = _section(group)
    waiting: defaultdict[Length, defaultdict[Kind, deque[Piece]]] = defaultdict(lambda: defaultdict(deque))
    for piece in group.pieces:
        waiting[nested_length(piece)][_kind(piece, section)].append(piece)
    laid: list[Laid] = []
    for use in sorted(packing.uses, key=lambda use: _slack(group.problem, use.bar, use.pieces)):
        kind = group.problem.bars[use.bar]
        counts = {group.problem.lengths[i]: n for i, n in use.pieces}
        for _ in range(use.times):
            found = _fitting(counts, waiting, section, group.saw.kerf, kind)
            if found is None:
                return None
            kinds, order, turns = found
            pieces = [waiting[_nested(one)][one].popleft() for one in kinds]
            links = _linked(pieces, kinds, order, turns)
            chain = _measured(links, section, group.saw.kerf, kind.head, kind.tail)
            laid.append(Laid(use.bar, links, chain))
    rest = tuple(piece for kinds in waiting.values() for queue in kinds.values() for piece in queue)
    return Layout(_in_order(group, laid), rest)


def _fitting(
    counts: dict[Length, int],
    waiting: defaultdict[Length, defaultdict[Kind, deque[Piece]]],
    section: MitreSection,
    kerf: Length,
    bar: BarKind,
) -> tuple[tuple[Kind, ...], tuple[int, ...], tuple[bool, ...]] | None:
    """Choose which faces each length of a bar comes with, so that it needs least and fits."""
    ways = []
    for length, count in counts.items():
        kinds = sorted(kind for kind, queue in waiting[length].items() if queue)
        ways.append(
            [
                choice
                for choice in combinations_with_replacement(kinds, count)
                if all(len(waiting[length][kind]) >= n for kind, n in Counter(choice).items())
            ]
        )
    best: tuple[Length, tuple[Kind, ...], tuple[int, ...], tuple[bool, ...]] | None = None
    for tried, choice in enumerate(product(*ways)):
        if tried == _MOST_CHOICES:
            break
        chosen = tuple(kind for part in choice for kind in part)
        needed, order, turns = _shortest(chosen, section, kerf, bar.head, bar.tail)
        if needed <= bar.length and (best is None or needed < best[0]):
            best = (needed, chosen, order, turns)
    return best[1:] if best else None


@lru_cache(maxsize=8192)
def _shortest(
    kinds: tuple[Kind, ...], section: MitreSection, kerf: Length, head: Length, tail: Length
) -> tuple[Length, tuple[int, ...], tuple[bool, ...]]:
    """Give the bar needed by pieces of these kinds, and the order and turning that need it."""
    pieces = [
        MitredPiece(id=str(i), centre=centre, left=left, right=right)
        for i, (centre, left, right) in enumerate(kinds)
    ]
    if len(pieces) <= _MOST_EXACT:
        chain = best_chain(pieces, section, kerf, head=head, tail=tail)
    else:
        chain = _one_by_one(pieces, section, kerf, head, tail)
    return chain.needed, tuple(int(piece.id) for piece in chain.pieces), chain.turns


def _one_by_one(
    pieces: Sequence[MitredPiece], section: MitreSection, kerf: Length, head: Length, tail: Length
) -> Chain:
    """Lay many pieces greedily: always the one that leaves the smallest gap."""
    left = list(pieces)
    laid: list[MitredPiece] = []
    turns: list[bool] = []
    end = SQUARE
    while left:
        ways = [
            (neighbour_gap(section, kerf, end, faces[0]), place, turn, faces)
            for place, piece in enumerate(left)
            for turn in (False, True)
            if (faces := turned((piece.left, piece.right), section) if turn else (piece.left, piece.right))
        ]
        _, place, turn, faces = min(ways, key=lambda way: way[:3])
        laid.append(left.pop(place))
        turns.append(turn)
        end = faces[1]
    return chain_of(laid, turns, section, kerf, head=head, tail=tail)


def _lay_chains(group: Group, packing: Packing) -> Layout | None:
    """Put whole chains on the bars of a packing of chains, then lay each bar as short as it goes."""
    section = _section(group)
    kerf = group.saw.kerf
    waiting: defaultdict[Length, deque[Links]] = defaultdict(deque)
    for links in group.chains:
        waiting[_chain_length(group, links)].append(links)
    laid: list[Laid] = []
    for use in packing.uses:
        kind = group.problem.bars[use.bar]
        for _ in range(use.times):
            links = tuple(
                link
                for i, n in use.pieces
                for _ in range(n)
                for link in waiting[group.problem.lengths[i]].popleft()
            )
            chain = _measured(links, section, kerf, kind.head, kind.tail)
            kinds = tuple(_kind(piece, section) for piece, _ in links)
            needed, order, turns = _shortest(kinds, section, kerf, kind.head, kind.tail)
            if needed < chain.needed:
                links = _linked([piece for piece, _ in links], kinds, order, turns)
                chain = _measured(links, section, kerf, kind.head, kind.tail)
            laid.append(Laid(use.bar, links, chain))
    rest = tuple(piece for queue in waiting.values() for links in queue for piece, _ in links)
    return Layout(_in_order(group, laid), rest)


def _pairs(group: Group, *, far: bool) -> tuple[Links, ...]:
    """Tie pieces of one slope class into pairs, as far as a pair fits a bar."""
    section = _section(group)
    kerf = group.saw.kerf
    longest = max(bar.usable for bar in group.problem.bars)
    classes: defaultdict[Faces, list[Piece]] = defaultdict(list)
    for piece in sorted(group.pieces, key=lambda piece: -piece.length):
        kind = _kind(piece, section)
        classes[kind[1], kind[2]].append(piece)
    made: list[Links] = []
    for faces, pieces in sorted(classes.items()):
        left = deque(pieces)
        while left:
            first = left.popleft()
            if not left or faces == (SQUARE, SQUARE):
                made.append(((first, False),))
                continue
            second = left[-1] if far else left[0]
            kinds = (_kind(first, section), _kind(second, section))
            _, order, turns = _shortest(kinds, section, kerf, NO_LENGTH, NO_LENGTH)
            both = (first, second)
            pair = _linked(both, kinds, order, turns)
            alone = sum(chain_needed(((piece, False),), section, kerf) for piece in both) + kerf
            if (needed := chain_needed(pair, section, kerf)) < alone and needed <= longest:
                made.append(pair)
                left.pop() if far else left.popleft()
            else:
                made.append(((first, False),))
    return tuple(made)


def _with_chains(group: Group, links: tuple[Links, ...]) -> Group:
    counts = Counter(_chain_length(group, one) for one in links)
    lengths = tuple(sorted(counts, reverse=True))
    problem = replace(group.problem, lengths=lengths, counts=tuple(counts[length] for length in lengths))
    return replace(group, problem=problem, chains=links)


def _chain_length(group: Group, links: Links) -> Length:
    """Give the length a chain is nested at: up to 0.01 mm, unless only its own exact one fits a bar."""
    exact = chain_needed(links, _section(group), group.saw.kerf)
    rounded = -(-exact // _UNIT) * _UNIT
    longest = max(bar.usable for bar in group.problem.bars)
    return Length(rounded) if rounded <= longest else exact


def _nested(kind: Kind) -> Length:
    length, *faces = kind
    return Length(length // _UNIT * _UNIT) if any(faces) else length


def _measured(links: Links, section: MitreSection, kerf: Length, head: Length, tail: Length) -> Chain:
    pieces = [
        MitredPiece(id=piece.id, centre=piece.length, left=piece.slope_left, right=piece.slope_right)
        for piece, _ in links
    ]
    return chain_of(pieces, [turn for _, turn in links], section, kerf, head=head, tail=tail)


def _kind(piece: Piece, section: MitreSection) -> Kind:
    """Give what matters of a piece at the saw, the same for a piece and its turned twin."""
    faces = (piece.slope_left, piece.slope_right)
    other = turned(faces, section)
    return (piece.length, *(min(faces, other) if other is not None else faces))


def _linked(
    pieces: Sequence[Piece], kinds: Sequence[Kind], order: Sequence[int], turns: Sequence[bool]
) -> Links:
    """Put real pieces in the order and turning that was found for their kinds."""
    return tuple((pieces[i], _turn(pieces[i], kinds[i], turn)) for i, turn in zip(order, turns, strict=True))


def _turn(piece: Piece, kind: Kind, turn: bool) -> bool:
    """Tell whether a real piece is turned when its kind is laid turned, or not."""
    return turn != ((piece.slope_left, piece.slope_right) != (kind[1], kind[2]))


def _slack(problem: Problem, bar: int, pieces: tuple[tuple[int, int], ...]) -> tuple[int, int]:
    kind = problem.bars[bar]
    return kind.usable - sum(problem.lengths[i] * n for i, n in pieces), bar


def _in_order(group: Group, laid: Sequence[Laid]) -> tuple[Laid, ...]:
    """Put offcuts first, then longest pieces first; like bars stay together."""

    def key(one: Laid) -> tuple[object, ...]:
        lengths = [-piece.length for piece, _ in one.links]
        return (
            not group.problem.bars[one.bar].offcut,
            sorted(lengths),
            one.bar,
            [str(face) for faces in one.chain.faces for face in faces],
        )

    return tuple(sorted(laid, key=key))


def _section(group: Group) -> MitreSection:
    if group.mitre is None:
        raise ValueError(f"{group.material} has no mitred pieces.")
    return group.mitre
