"""How far the blade and the bars may be off before a plan's bars no longer hold their cuts."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.domain.mitre import MitreSection
from nesting.domain.plan import Margins, PlannedBar
from nesting.domain.rules import SawRules
from nesting.takeoff.mitres import end_extra, tip_length
from nesting.units import Length


def margins_of(bars: Sequence[PlannedBar], saw: SawRules, section: MitreSection | None = None) -> Margins:
    """
    Give the margins of some bars still to be cut.

    A bar holds its n pieces while h + sum(a) + (n - 1) k + e <= L. So the kerf may be
    (L - h - e - sum(a)) / (n - 1), rounded down, and a new bar shorter by what is left of it.
    Head trim and tail loss are taken as they are set; offcuts are measured, so their length has no margin.
    For mitred pieces no kerf is looked for, since it counts differently at each slope.

    Parameters
    ----------
    section
        Section at the mitres of a material that has some.
    """
    kerfs: list[int] = []
    rooms: list[int] = []
    for bar in bars:
        if bar.state.cut:
            continue
        if section is not None:
            if not bar.offcut:
                rooms.append(_mitred_room(bar, saw, section))
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


def _mitred_room(bar: PlannedBar, saw: SawRules, section: MitreSection) -> int:
    last = bar.cuts[-1]
    far = last.face + tip_length(section, last.slope_end)
    extra = end_extra(saw.kerf, last.slope_end) if bar.tail_loss else 0
    return bar.length - bar.head - bar.tail_loss - far - extra
