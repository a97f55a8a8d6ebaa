"""The comparison from top to bottom: lengths, parts of the building, covers."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from nesting.advice.comparison import Comparison, CoverChoice, Grouping, Mix
from nesting.advice.covers import cover_choices
from nesting.advice.groupings import groupings
from nesting.advice.lengths import COMMON_LENGTHS, length_mixes
from nesting.advice.solving import OutOfTime, Solver
from nesting.batch.split import split
from nesting.batch.watch import Flag
from nesting.domain.request import Request
from nesting.planning.purpose import for_purpose
from nesting.takeoff.take_off import take_off
from nesting.units import Length

Row = TypeVar("Row", Mix, Grouping, CoverChoice)


def compare(
    request: Request,
    *,
    unlisted: Sequence[Length] | None = None,
    seed: int = 0,
    seconds: float | None = None,
    cancel: Flag | None = None,
) -> Comparison:
    """
    Compare what could be bought for a request, and how it could be ordered and cut.

    Parameters
    ----------
    unlisted
        Lengths to try beside those on offer; None tries those commonly sold.
    seconds
        For everything; when they are up, what has been compared so far is returned.
    """
    taken, _ = for_purpose(request)
    pieces = take_off(taken).pieces
    groups = [group for chain in split(request, pieces).chains for group in chain]
    tried = COMMON_LENGTHS if unlisted is None else tuple(unlisted)
    solver = Solver(seed, seconds, cancel or threading.Event())
    cut_short = False

    def rows(source: Callable[[], Iterator[Row]]) -> tuple[Row, ...]:
        nonlocal cut_short
        found: list[Row] = []
        try:
            found.extend(source())
        except OutOfTime:
            cut_short = True
        return tuple(found)

    return Comparison(
        currency=request.currency if any(group.priced for group in groups) else "",
        mixes=rows(lambda: (mix for group in groups for mix in length_mixes(group, tried, solver))),
        groupings=rows(lambda: groupings(taken, pieces, solver)),
        covers=rows(lambda: cover_choices(taken, solver)),
        cut_short=cut_short,
    )
