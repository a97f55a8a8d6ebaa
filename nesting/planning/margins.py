"""How far the blade and the bars may be off before a plan's bars no longer hold their cuts."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.domain.plan import Margins, PlannedBar
from nesting.domain.rules import SawRules
from nesting.units import Length


def margins_of(bars: Sequence[PlannedBar], saw: SawRules) -> Margins:
    """
    Give the margins of some bars still to be cut.

    A bar holds its n pieces while h + sum(a) + (n - 1) k + e <= L. So the kerf may be
    (L - h - e - sum(a)) / (n - 1), rounded down, and a new bar shorter by what is left of it.
    Head trim and tail loss are taken as they are set; offcuts are measured, so their length has no margin.
    """
    kerfs: list[int] = []
    rooms: list[int] = []
    for bar in bars:
        if bar.state.cut:
            continue
        free = bar.length - bar.head - bar.tail_loss - sum(cut.length for cut in bar.cuts)
        gaps = len(bar.cuts) - 1
        if gaps > 0:
            kerfs.append(free // gaps)
        if not bar.offcut:
            rooms.append(free - gaps * saw.kerf)
    return Margins(
        kerf=Length(min(kerfs)) if kerfs else None,
        bar=Length(min(rooms)) if rooms else None,
    )
