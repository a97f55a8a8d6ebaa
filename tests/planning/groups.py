"""Builders of small groups for the planning tests."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.problem import BarKind, Problem
from nesting.domain.rules import SawRules
from nesting.planning.group import Group
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
    return Group(
        material=pieces[0].material,
        pieces=tuple(pieces),
        problem=problem,
        saw=saw,
        priced=priced,
        cover_follows=False,
        limits=tuple(() if bar.count is None else ((bar.key, bar.count),) for bar in bars),
    )
