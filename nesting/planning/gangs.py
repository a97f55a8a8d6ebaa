"""Gang cutting: equal bars clamped side by side and cut with one stroke."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import groupby

from nesting.domain.goals import GoalPrice
from nesting.domain.plan import PlannedBar
from nesting.errors import ProblemError
from nesting.units import Length

Setting = tuple[str, Length, Length, tuple[tuple[Length, Fraction, Fraction], ...]]
"""What bars of one gang share: source (an offcut's is its own), length, head trim, stops in saw order."""


def gang_strokes(patterns: Iterable[tuple[int, int]], gang: int) -> int:
    """
    Count the saw strokes when up to ``gang`` bars of one pattern are cut at once.

    sum(ceil(times / B) strokes); 24 equal bars of 5 strokes take 120 one by one and 30 by fours
    (common practice, no source).

    Parameters
    ----------
    patterns
        Bars of each pattern, and strokes that one bar takes, the head trim's included.
    gang
        Bars the clamp holds (B).

    Raises
    ------
    ProblemError
        When the clamp holds no bar.
    """
    if gang < 1:
        raise ProblemError(f"A clamp for {gang} bars cuts nothing.")
    return sum(-(-times // gang) * strokes for times, strokes in patterns)


def setting_of(bar: PlannedBar) -> Setting:
    """Give what another bar must share to be clamped with this one."""
    return (
        bar.source,
        bar.length,
        bar.head,
        tuple((cut.stop, cut.slope_start, cut.slope_end) for cut in bar.cuts),
    )


def gangs(bars: Sequence[PlannedBar], gang: int) -> tuple[tuple[PlannedBar, ...], ...]:
    """
    Split a sequence of bars into gangs: neighbours that share every setting, at most ``gang`` of them.

    Raises
    ------
    ProblemError
        When the clamp holds no bar.
    """
    if gang < 1:
        raise ProblemError(f"A clamp for {gang} bars cuts nothing.")
    found: list[tuple[PlannedBar, ...]] = []
    for _, alike in groupby(bars, key=setting_of):
        together = tuple(alike)
        found += (together[i : i + gang] for i in range(0, len(together), gang))
    return tuple(found)


def gang_price(bars: Sequence[PlannedBar], gang: int, *, cost: int) -> GoalPrice:
    """
    Tell how many strokes gang cutting saves; it moves no piece, so the cost of the bars stays.

    The bound is the one of these bars: each setting's bars together, whatever the order.

    Raises
    ------
    ProblemError
        When the clamp holds no bar.
    """
    strokes = {setting_of(bar): bar.strokes for bar in bars}
    times = Counter(setting_of(bar) for bar in bars)
    return GoalPrice(
        goal="strokes",
        cost_before=cost,
        cost_after=cost,
        value_before=sum(bar.strokes for bar in bars),
        value_after=sum(together[0].strokes for together in gangs(bars, gang)),
        lower_bound=gang_strokes(((times[key], strokes[key]) for key in times), gang),
    )
