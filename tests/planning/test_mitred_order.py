"""The shortest way to lay mitred pieces behind each other."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.mitre import Mitre, MitredPiece
from nesting.planning.mitred import Kind, kind_of, section_of
from nesting.planning.mitred_order import linked, measured, shortest
from nesting.takeoff.mitre_order import chain_of
from nesting.units import NO_LENGTH, Length, mm
from tests.planning.mitred_shop import F45, group_of, leg

SECTION = section_of(group_of(leg("a", "1000", right=Mitre(F45))))
SLOPES = st.sampled_from([Fraction(0), Fraction(45), Fraction(-45), Fraction(45, 2)])
KINDS = st.lists(st.tuples(st.integers(200, 900).map(mm), SLOPES, SLOPES), min_size=1, max_size=4)


@settings(max_examples=40, deadline=None)
@given(kinds=KINDS, head=st.sampled_from([0, 8]))
def test_few_pieces_are_laid_as_short_as_can_be(kinds: list[Kind], head: int) -> None:
    """Every order and turning of up to four is tried beside it."""
    pieces = [MitredPiece(id=str(n), centre=c, left=a, right=b) for n, (c, a, b) in enumerate(kinds)]
    needed, order, turns = shortest(tuple(kinds), SECTION, mm(3), mm(head), NO_LENGTH)
    all_ways = [
        chain_of(some, ways, SECTION, mm(3), head=mm(head)).needed
        for some in permutations(pieces)
        for ways in product((False, True), repeat=len(kinds))
    ]
    assert needed == min(all_ways)
    assert chain_of([pieces[i] for i in order], turns, SECTION, mm(3), head=mm(head)).needed == needed


def test_many_pieces_still_share_their_strokes() -> None:
    """
    Nine trapezoids of 570 on the line, every second one turned, share all eight strokes between them.

    9 x 570 + 8 x 4.242641 and a tip of 15 at either end: 5130 + 33.941128 + 30 = 5193.941128.
    """
    kinds: tuple[Kind, ...] = ((mm(570), Fraction(45), Fraction(-45)),) * 9
    needed, order, turns = shortest(kinds, SECTION, mm(3), NO_LENGTH, NO_LENGTH)
    assert needed == Length(5_193_941_128)
    assert sorted(order) == list(range(9))
    assert all(one != other for one, other in pairwise(turns))


def test_real_pieces_lie_as_their_kinds_were_laid() -> None:
    """A kind stands for a piece and its turned twin; what is measured of the real ones is the same."""
    group = group_of(
        leg("a", "1000", right=Mitre(F45)),
        leg("b", "800", left=Mitre(F45)),
        leg("c", "700", left=Mitre(F45), right=Mitre(F45)),
        leg("d", "650"),
    )
    kinds = tuple(kind_of(piece, SECTION) for piece in group.pieces)
    needed, order, turns = shortest(kinds, SECTION, mm(3), mm(8), mm(8))
    links = linked(group.pieces, kinds, order, turns)
    assert measured(links, SECTION, mm(3), mm(8), mm(8)).needed == needed
    assert [piece for piece, _ in links] == [group.pieces[i] for i in order]
    # At least one of them is not as its kind is written down, so its turn must have been looked at.
    assert any(
        (piece.slope_left, piece.slope_right) != kind[1:]
        for piece, kind in zip(group.pieces, kinds, strict=True)
    )
