"""Clips of a channel piece: how many, and where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from fractions import Fraction

from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.small_parts import ClipFit, ClipRule, PartCount
from nesting.units import Length


def clips_for(channel: Length, rule: ClipRule) -> ClipFit:
    """
    Place N = max(2, ceil((A - 2d) / s) + 1) clips, (A - 2d) / (N - 1) apart.

    A channel shorter than 2d has no room for its edge distances: its clips sit at a quarter of the
    length from either end (common practice, no source).

    Parameters
    ----------
    channel
        Length of one channel piece as sawn (A), mitred ones by their long point; nanometres.
    """
    if channel < rule.single_below:
        return ClipFit(positions=(Length(channel // 2),), spacing=Fraction(0))
    edge = Fraction(rule.edge) if 2 * rule.edge < channel else Fraction(channel, 4)
    between = channel - 2 * edge
    count = max(2, -(-between // rule.pitch) + 1)
    spacing = between / (count - 1)
    positions = tuple(Length(int(edge + number * spacing)) for number in range(count))
    return ClipFit(positions=positions, spacing=spacing)


def clips_of(pieces: Iterable[Piece], rules: Mapping[str, ClipRule]) -> tuple[PartCount, ...]:
    """
    Count the clips of all channel pieces whose family has a rule, by family and finish.

    Parameters
    ----------
    rules
        Family name to its rule.
    """
    counts: Counter[tuple[str, str]] = Counter()
    for piece in pieces:
        rule = rules.get(piece.material.family)
        if piece.part is Part.CHANNEL and rule is not None:
            counts[piece.material.family, piece.material.finish] += clips_for(piece.stop, rule).count
    return tuple(PartCount(*key, count) for key, count in sorted(counts.items()))
