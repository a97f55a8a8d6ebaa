"""What a bar's block must shout: cuts that nothing holds, a blade half in air, a stroke that is not there."""

from __future__ import annotations

from nesting.domain.plan import PlannedBar
from nesting.domain.rules import SawRules
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import numbers_words


def bar_warnings(bar: PlannedBar, saw: SawRules, lengths: BothUnits) -> tuple[str, ...]:
    """Give the warnings of a bar as sentences, the most dangerous first."""
    said = []
    unheld = tuple(order for order, cut in enumerate(bar.cuts, start=1) if not cut.held)
    if unheld:
        cuts = f"CUT {unheld[0]} CANNOT" if len(unheld) == 1 else f"CUTS {numbers_words(unheld)} CANNOT"
        said.append(
            f"{cuts} BE HELD: piece and rest are both shorter than {lengths.first(saw.grip)}. "
            "Clamp with a shaped block and a stop, or leave it for a saw that can."
        )
    if bar.sliver:
        said.append(
            f"CUT {len(bar.cuts)} LEAVES LESS THAN A KERF: the blade is half in air. "
            "Clamp both sides, feed slowly."
        )
    return tuple(said)


def without_last_stroke(bar: PlannedBar) -> bool:
    """Whether the last piece ends exactly at the bar's end, so that no stroke frees it."""
    return bar.strokes - int(bar.head > 0) < len(bar.cuts)
