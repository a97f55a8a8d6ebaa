"""The shortest chain of mitred pieces, against every order there is."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.demo import rows
from nesting.domain.mitre import MitredPiece, MitrePlane, MitrePoint, MitreSection
from nesting.errors import ProblemError
from nesting.takeoff.mitre_order import MOST_EXACT, best_chain, chain_of
from nesting.takeoff.mitres import mitred_length
from nesting.units import Length, mm

FLAT = MitreSection(width=mm(30), symmetric=True)
STANDING = MitreSection(width=mm(20), symmetric=True, plane=MitrePlane.STANDING)
ASYMMETRIC = MitreSection(width=mm(30), symmetric=False)
KERF, TRIM = mm(3), mm(8)
F0, F45 = Fraction(0), Fraction(45)
TRAPEZOID = MitredPiece(id="t", centre=mm(570), left=F45, right=-F45)
LEG_1 = MitredPiece(id="leg 1", centre=mm(2824), right=-F45)
LEG_2 = MitredPiece(id="leg 2", centre=mm(1944), left=F45)


def test_three_trapezoids_are_turned_by_themselves() -> None:
    """1748.49 is the shortest of all orders; two shared strokes."""
    chain = best_chain([TRAPEZOID] * 3, FLAT, KERF)
    assert chain.turns in ((False, True, False), (True, False, True))
    assert chain.length == 1_748_485_282  # 1710 + 2 x 4.24264069 + 30
    assert (chain.shared, chain.strokes) == (2, 2)


def test_an_asymmetric_section_keeps_its_way() -> None:
    """1808.49: nothing may be turned, both gaps take two strokes."""
    chain = best_chain([TRAPEZOID] * 3, ASYMMETRIC, KERF)
    assert chain.turns == (False, False, False)
    assert chain.length == 1_808_485_282
    assert (chain.shared, chain.strokes) == (0, 4)


def test_a_pair_of_one_unit_puts_its_square_ends_outward() -> None:
    """
    Tip to tip the mitres outward are shorter, 4768 + 3 + 30 = 4801, but both trims then pay.

    2 x (4.243 - 3) more: 4803.49 against 4802.24 with the mitres inward.
    """
    inward = best_chain([LEG_1, LEG_2], FLAT, KERF, head=TRIM, tail=TRIM)
    assert inward.length == 4_802_242_641
    assert inward.needed == inward.length + mm(16)
    outward = chain_of([LEG_1, LEG_2], (True, True), FLAT, KERF, head=TRIM, tail=TRIM)
    assert outward.length == mm(4801)
    assert outward.needed == mm(4801) + mm(16) + 2 * 1_242_641


def test_clean_ends_let_the_tips_lie_on_them() -> None:
    """Without trims the mitres go outward: 4801."""
    chain = best_chain([LEG_1, LEG_2], FLAT, KERF)
    assert chain.length == chain.needed == mm(4801)


def test_a_pair_across_mirrored_units_shares_its_cut() -> None:
    """2824 + 4.243 + 1944 = 4772.24 and one stroke between them."""
    mirrored_leg = MitredPiece(id="leg 2 R", centre=mm(1944), right=-F45)
    chain = best_chain([LEG_1, mirrored_leg], FLAT, KERF, head=TRIM, tail=TRIM)
    assert chain.length == 4_772_242_641
    assert chain.strokes == 1


def test_a_standing_corner_pairs_inside_with_outside() -> None:
    """Two inside and two outside corners give two shared mitres and one square stroke: 3 strokes."""
    inside = MitredPiece(id="in", centre=mm(500), right=-F45)
    outside = MitredPiece(id="out", centre=mm(400), right=F45)
    chain = best_chain([inside, inside, outside, outside], STANDING, KERF, head=TRIM, tail=TRIM)
    assert (chain.shared, chain.strokes) == (3, 3)
    assert {piece.id for piece in chain.pieces[:2]} == {"in", "out"}


ANGLES = st.sampled_from([F0, F45, -F45, Fraction(45, 2), Fraction(-30)])
PIECES = st.builds(
    MitredPiece,
    id=st.just("p"),
    centre=st.integers(min_value=10**8, max_value=10**9).map(Length),
    left=ANGLES,
    right=ANGLES,
)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(PIECES, min_size=1, max_size=4),
    st.sampled_from([FLAT, STANDING, ASYMMETRIC]),
    st.sampled_from([Length(0), TRIM]),
)
def test_no_order_is_shorter(pieces: list[MitredPiece], section: MitreSection, trim: Length) -> None:
    """Every order and turning is measured one by one."""
    turns = (False, True) if section.symmetric else (False,)
    least = min(
        chain_of(order, turning, section, KERF, head=trim, tail=trim).needed
        for order in permutations(pieces)
        for turning in product(turns, repeat=len(pieces))
    )
    chain = best_chain(pieces, section, KERF, head=trim, tail=trim)
    assert chain.needed == least
    assert sorted(chain.pieces, key=repr) == sorted(pieces, key=repr)


@pytest.mark.parametrize("count", [0, MOST_EXACT + 1])
def test_only_a_handful_is_ordered_exactly(count: int) -> None:
    """The sets double with every piece; more is refused instead of hanging."""
    with pytest.raises(ProblemError, match="exact order"):
        best_chain([TRAPEZOID] * count, FLAT, KERF)


def coves() -> list[MitredPiece]:
    """Give the demo's cove legs, one 1 mm cap each, 45 degrees where the run has its corner."""
    legs = []
    for row in rows("runs"):
        if row["Family"] == "QUEN-30M":
            left = F45 if row["Left end"] == "mitre 45" else F0
            right = -F45 if row["Right end"] == "mitre 45" else F0
            long_point = Length(mm(row["Length (mm)"]) - mm(1))
            centre = mitred_length(
                long_point, MitrePoint.LONG, MitrePoint.CENTRE, width=mm(30), left=left, right=right
            )
            legs.append(MitredPiece(id=row["Run"], centre=centre, left=left, right=right))
    return legs


def test_the_demo_coves_take_twelve_bars_of_5000() -> None:
    """12 corners, each pair on one bar: 12 x 44.00 = 528.00; 24 bars of 3000 would be 660.00."""
    legs = coves()
    pairs = list(zip(legs[::2], legs[1::2], strict=True))
    chains = [best_chain(pair, FLAT, KERF, head=TRIM, tail=TRIM) for pair in pairs]
    assert len(chains) == 12
    assert {chain.length for chain in chains} == {4_802_242_641}
    assert all(chain.needed <= mm(5000) for chain in chains)
    # Two long legs never go on one bar, even short point to short point: 2 x 2809 > 5000.
    assert sum(leg.centre == mm(2824) for leg in legs) == 12
    assert 12 * 4400 == 52_800 < 24 * 2750


def test_the_demo_mirrored_units_share_cuts() -> None:
    """Stack 1 is plan hand L, stack 8 is R: the long leg of one shares with the short leg of the other."""
    legs = {leg.id: leg for leg in coves()}
    chain = best_chain([legs["OY-101-7"], legs["OY-108-8"]], FLAT, KERF, head=TRIM, tail=TRIM)
    assert chain.length == 4_772_242_641
