"""
Mitred pieces on bars: which lie behind each other so that one sloped stroke serves two.

The solver knows lengths alone. It is first asked with every piece at its centre line, the least that
any way of laying them takes; whatever bars it finds are then laid with real faces. Where one of its
bars cannot be laid, it is asked again with pieces tied into chains; the first answer still bounds the
cost.
"""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement, product

from nesting.domain.mitre import MitreSection
from nesting.domain.packing import Packing
from nesting.domain.pieces import Piece
from nesting.domain.problem import BarKind, Problem
from nesting.planning.group import Group, Links
from nesting.planning.mitred import Kind, kind_length, kind_of, nested_length, section_of
from nesting.planning.mitred_chains import chain_length
from nesting.planning.mitred_order import linked, measured, shortest
from nesting.takeoff.mitre_order import Chain
from nesting.units import Length

_MOST_CHOICES = 300


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


def _lay_pieces(group: Group, packing: Packing) -> Layout | None:
    """Hand real pieces to the bars of a packing of centre lines, the fullest bars first."""
    section = section_of(group)
    waiting: defaultdict[Length, defaultdict[Kind, deque[Piece]]] = defaultdict(lambda: defaultdict(deque))
    for piece in group.pieces:
        waiting[nested_length(piece)][kind_of(piece, section)].append(piece)
    laid: list[Laid] = []
    for use in sorted(packing.uses, key=lambda use: _slack(group.problem, use.bar, use.pieces)):
        kind = group.problem.bars[use.bar]
        counts = {group.problem.lengths[i]: n for i, n in use.pieces}
        for _ in range(use.times):
            found = _fitting(counts, waiting, section, group.saw.kerf, kind)
            if found is None:
                return None
            kinds, order, turns = found
            pieces = [waiting[kind_length(one)][one].popleft() for one in kinds]
            links = linked(pieces, kinds, order, turns)
            chain = measured(links, section, group.saw.kerf, kind.head, kind.tail)
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
        needed, order, turns = shortest(chosen, section, kerf, bar.head, bar.tail)
        if needed <= bar.length and (best is None or needed < best[0]):
            best = (needed, chosen, order, turns)
    return best[1:] if best else None


def _lay_chains(group: Group, packing: Packing) -> Layout | None:
    """Put whole chains on the bars of a packing of chains, then lay each bar as short as it goes."""
    section = section_of(group)
    kerf = group.saw.kerf
    waiting: defaultdict[Length, deque[Links]] = defaultdict(deque)
    for links in group.chains:
        waiting[chain_length(group, links)].append(links)
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
            chain = measured(links, section, kerf, kind.head, kind.tail)
            kinds = tuple(kind_of(piece, section) for piece, _ in links)
            needed, order, turns = shortest(kinds, section, kerf, kind.head, kind.tail)
            if needed < chain.needed:
                links = linked([piece for piece, _ in links], kinds, order, turns)
                chain = measured(links, section, kerf, kind.head, kind.tail)
            laid.append(Laid(use.bar, links, chain))
    rest = tuple(piece for queue in waiting.values() for links in queue for piece, _ in links)
    return Layout(_in_order(group, laid), rest)


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
