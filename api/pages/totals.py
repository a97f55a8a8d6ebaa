"""Sums of lengths, which nobody sets a stop to: in metres or feet, rounded to two decimals."""

from __future__ import annotations

from nesting.reports.lengths import BothUnits
from nesting.units import NM_PER_INCH

_NM_PER_METRE = 1_000_000_000
_NM_PER_FOOT = 12 * NM_PER_INCH


def total_words(length: int, lengths: BothUnits) -> str:
    """Say a sum of lengths (nanometres) in the reader's system and in the other: ``10.99 m (36.06 ft)``."""
    metres, feet = (f"{length / unit:.2f}" for unit in (_NM_PER_METRE, _NM_PER_FOOT))
    said = f"{metres} m", f"{feet} ft"
    first, second = said if lengths.metric else said[::-1]
    return f"{first} ({second})".replace(" ", "\N{NO-BREAK SPACE}", 1)
