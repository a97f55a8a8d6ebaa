"""What a bar's tail should come to, how far a tape may say otherwise, and what becomes of it."""

from __future__ import annotations

from dataclasses import dataclass

from api.pages.saw.strokes import Said, said_of
from nesting.domain.plan import GroupPlan, PlannedBar, TailFate
from nesting.domain.report import BarReport, Outcome
from nesting.planning.report_faults import tail_range
from nesting.reports.lengths import BothUnits

DOUBTS = {
    "short": "Shorter than it should be: a piece may be too long. Measure every piece.",
    "long": "Longer than it should be: a piece may be too short. Measure every piece.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """
    The tail of one bar.

    Parameters
    ----------
    expected
        What should be left; None where nothing is.
    words
        What to do with it, or why there is none.
    kept, tag
        Whether it goes back to the rack, and under which tag.
    least, most
        Shortest and longest tail, in nanometres, at which every piece can be right.
    keep
        A measured tail of at least this many nanometres goes back to the rack.
    """

    expected: Said | None
    words: str
    kept: bool
    tag: str
    least: int
    most: int
    keep: int


def tail_of(group: GroupPlan, bar: PlannedBar, lengths: BothUnits) -> Tail:
    """Give what a bar should leave."""
    least, most = tail_range(bar, group.saw, BarReport(bar=bar.number, outcome=Outcome.DONE))
    if bar.fate is TailFate.NONE:
        words = "None: the blade takes the rest." if bar.sliver else "None: nothing is left."
    elif bar.fate is TailFate.OFFCUT:
        words = "KEEP: measure, label, rack"
    else:
        words = "SCRAP: measure first"
    return Tail(
        expected=None if bar.fate is TailFate.NONE else said_of(bar.tail, lengths),
        words=words,
        kept=bar.fate is TailFate.OFFCUT,
        tag=bar.tail_tag,
        least=least,
        most=most,
        keep=int(group.saw.keep_length),
    )


def tail_doubt(measured: int, tail: Tail) -> str:
    """
    Say what a measured tail, in nanometres, gives cause to look for; empty when every piece can be right.

    Returns
    -------
    One of the keys of ``DOUBTS``, or nothing.
    """
    return "short" if measured < tail.least else "long" if measured > tail.most else ""
