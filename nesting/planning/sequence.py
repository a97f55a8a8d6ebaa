"""Safe cut order inside one bar."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.domain.rules import SawRules
from nesting.units import Length


def cut_order(lengths: Sequence[Length], bar_length: Length, head: Length, saw: SawRules) -> tuple[int, ...]:
    """
    Order the cuts of one bar: grip first, then equal stops together, then longest first.

    Longest first is the shop's habit, since a spoiled long piece can still become a short one. It
    gives way where it would leave a short piece to be cut from a short rest: then the pieces
    shorter than the grip come first, while there is still bar to hold (common practice, no source).

    Parameters
    ----------
    lengths
        Piece lengths of the bar, in any order.

    Returns
    -------
    Indices into ``lengths`` in saw order. Ties keep the given order.
    """
    longest_first = sorted(range(len(lengths)), key=lambda i: -lengths[i])
    in_order = [lengths[i] for i in longest_first]
    if all(held_cuts(in_order, bar_length, head, saw)):
        return tuple(longest_first)
    return tuple(sorted(range(len(lengths)), key=lambda i: (lengths[i] >= saw.grip, -lengths[i])))


def held_cuts(lengths: Sequence[Length], bar_length: Length, head: Length, saw: SawRules) -> tuple[bool, ...]:
    """
    Tell for each cut, in saw order, whether it can be held safely.

    A cut is safe when the bar left after it, or the piece itself, is at least the grip long
    (common practice, no source).
    """
    left = int(bar_length) - head
    held = []
    for length in lengths:
        left -= length + saw.kerf
        held.append(left >= saw.grip or length >= saw.grip)
    return tuple(held)
