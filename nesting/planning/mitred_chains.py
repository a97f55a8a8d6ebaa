"""
Mitred pieces tied into chains that may be nested like square pieces.

Where the bars found for centre lines cannot be laid with real faces, the solver is asked again with
pieces tied into pairs that share a stroke, each as long as it may be nested like a square piece.
"""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterator
from dataclasses import replace

from nesting.domain.mitre import SQUARE, MitreSection
from nesting.domain.pieces import Piece
from nesting.planning.group import Group, Links
from nesting.planning.mitred import UNIT, kind_of, section_of
from nesting.planning.mitred_order import linked, measured, shortest
from nesting.takeoff.mitres import Faces, solver_length
from nesting.units import NO_LENGTH, Length


def tied(group: Group) -> Iterator[Group]:
    """
    Give the group with its pieces tied into chains, in several ways, as problems of chains.

    Pairs that share a stroke: longest with longest, longest with shortest; and every piece by itself.
    """
    singles = tuple(((piece, False),) for piece in group.pieces)
    for links in (_pairs(group, far=False), _pairs(group, far=True), singles):
        yield _with_chains(group, links)


def chain_needed(links: Links, section: MitreSection, kerf: Length) -> Length:
    """Give the length at which pieces tied together may be nested like one square piece."""
    chain = measured(links, section, kerf, NO_LENGTH, NO_LENGTH)
    return solver_length(chain.length, chain.faces[0][0], chain.faces[-1][1], kerf)


def chain_length(group: Group, links: Links) -> Length:
    """Give the length a chain is nested at: up to 0.01 mm, unless only its own exact one fits a bar."""
    exact = chain_needed(links, section_of(group), group.saw.kerf)
    rounded = -(-exact // UNIT) * UNIT
    longest = max(bar.usable for bar in group.problem.bars)
    return Length(rounded) if rounded <= longest else exact


def _pairs(group: Group, *, far: bool) -> tuple[Links, ...]:
    """Tie pieces of one slope class into pairs, as far as a pair fits a bar."""
    section = section_of(group)
    kerf = group.saw.kerf
    longest = max(bar.usable for bar in group.problem.bars)
    classes: defaultdict[Faces, list[Piece]] = defaultdict(list)
    for piece in sorted(group.pieces, key=lambda piece: -piece.length):
        kind = kind_of(piece, section)
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
            kinds = (kind_of(first, section), kind_of(second, section))
            _, order, turns = shortest(kinds, section, kerf, NO_LENGTH, NO_LENGTH)
            both = (first, second)
            pair = linked(both, kinds, order, turns)
            alone = sum(chain_needed(((piece, False),), section, kerf) for piece in both) + kerf
            if (needed := chain_needed(pair, section, kerf)) < alone and needed <= longest:
                made.append(pair)
                left.pop() if far else left.popleft()
            else:
                made.append(((first, False),))
    return tuple(made)


def _with_chains(group: Group, links: tuple[Links, ...]) -> Group:
    counts = Counter(chain_length(group, one) for one in links)
    lengths = tuple(sorted(counts, reverse=True))
    problem = replace(group.problem, lengths=lengths, counts=tuple(counts[length] for length in lengths))
    return replace(group, problem=problem, chains=links)
