"""The order and turning in which mitred pieces need the shortest bar."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from nesting.domain.mitre import SQUARE, MitredPiece, MitreSection
from nesting.domain.pieces import Piece
from nesting.planning.group import Links
from nesting.planning.mitred import Kind
from nesting.takeoff.mitre_order import Chain, best_chain, chain_of
from nesting.takeoff.mitres import neighbour_gap, turned
from nesting.units import Length

_MOST_EXACT = 7  # 2^7 sets x 14 ways to end: a few milliseconds; longer bars are laid piece by piece


@lru_cache(maxsize=8192)
def shortest(
    kinds: tuple[Kind, ...], section: MitreSection, kerf: Length, head: Length, tail: Length
) -> tuple[Length, tuple[int, ...], tuple[bool, ...]]:
    """
    Give the bar needed by pieces of these kinds, and the order and turning that need it.

    Up to seven pieces the least there is; more are laid one by one, the smallest gap next.

    Parameters
    ----------
    head, tail
        The bar's trims.

    Returns
    -------
    tuple
        Length of the bar, indices into ``kinds`` in saw order, and whether each of them is turned.
    """
    pieces = [
        MitredPiece(id=str(i), centre=centre, left=left, right=right)
        for i, (centre, left, right) in enumerate(kinds)
    ]
    if len(pieces) <= _MOST_EXACT:
        chain = best_chain(pieces, section, kerf, head=head, tail=tail)
    else:
        chain = _one_by_one(pieces, section, kerf, head, tail)
    return chain.needed, tuple(int(piece.id) for piece in chain.pieces), chain.turns


def measured(links: Links, section: MitreSection, kerf: Length, head: Length, tail: Length) -> Chain:
    """Give the faces of pieces laid in this order and turning, and what they need of a bar."""
    pieces = [
        MitredPiece(id=piece.id, centre=piece.length, left=piece.slope_left, right=piece.slope_right)
        for piece, _ in links
    ]
    return chain_of(pieces, [turn for _, turn in links], section, kerf, head=head, tail=tail)


def linked(
    pieces: Sequence[Piece], kinds: Sequence[Kind], order: Sequence[int], turns: Sequence[bool]
) -> Links:
    """Put real pieces in the order and turning that was found for their kinds."""
    return tuple((pieces[i], _turn(pieces[i], kinds[i], turn)) for i, turn in zip(order, turns, strict=True))


def _turn(piece: Piece, kind: Kind, turn: bool) -> bool:
    """Tell whether a real piece is turned when its kind is laid turned, or not."""
    return turn != ((piece.slope_left, piece.slope_right) != (kind[1], kind[2]))


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
