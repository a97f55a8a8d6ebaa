"""Builders of small groups for the planning tests."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.problem import BarKind, Problem
from nesting.domain.rules import SawRules
from nesting.planning.group import Group
from nesting.purchasing.market import Market
from nesting.purchasing.offer import Offer
from nesting.units import Length

MATERIAL = Material("TOLV-17N", "natural", Part.CHANNEL)


def pieces_of(lengths: Sequence[Length], *, job: str = "yard", material: Material = MATERIAL) -> list[Piece]:
    """One piece a length, ids P1, P2, ..."""
    return [
        Piece(id=f"P{i}", job=job, run=f"P{i}", material=material, length=length, exact=length)
        for i, length in enumerate(lengths, 1)
    ]


def group_of(
    pieces: Sequence[Piece], bars: Sequence[BarKind], saw: SawRules, *, priced: bool = False
) -> Group:
    """Give the group of some pieces on some bars."""
    counts = Counter(piece.length for piece in pieces)
    lengths = tuple(sorted(counts, reverse=True))
    problem = Problem(
        lengths=lengths,
        counts=tuple(counts[length] for length in lengths),
        bars=tuple(bars),
        kerf=saw.kerf,
        keep_length=saw.keep_length,
    )
    new = [bar for bar in bars if not bar.offcut]
    return Group(
        material=pieces[0].material,
        pieces=tuple(pieces),
        problem=problem,
        saw=saw,
        priced=priced,
        cover_follows=False,
        market=Market(
            tuple(Offer(line=k, bucket=0, price=bar.cost, most=bar.count) for k, bar in enumerate(new)),
            tuple((k,) for k in range(len(new))),
        ),
    )
