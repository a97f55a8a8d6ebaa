"""The comparison from top to bottom: lengths, parts of the building, covers."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

from nesting.advice.comparison import Choice, Comparison, CoverChoice, Grouping, Mix
from nesting.advice.covers import cover_choices
from nesting.advice.covers import questions as cover_questions
from nesting.advice.groupings import groupings
from nesting.advice.groupings import questions as grouping_questions
from nesting.advice.lengths import COMMON_LENGTHS, mixes, single_lengths, with_each_unlisted
from nesting.advice.solving import OutOfTime, Solver
from nesting.batch.split import split
from nesting.batch.watch import Flag
from nesting.domain.request import Request
from nesting.planning.group import Group
from nesting.planning.purpose import for_purpose
from nesting.takeoff.take_off import take_off
from nesting.units import Length

# Shares of the time still left, one question after the other; what one leaves over is there for the next.
MIXES_SHARE, GROUPINGS_SHARE, COVERS_SHARE = Fraction(2, 5), Fraction(1, 2), Fraction(1, 3)
SINGLE_SHARE, REST = Fraction(1, 2), Fraction(1)

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
        For everything, shared among the questions: first what each material costs, then parts of the
        building and covers, which are always answered, with their gap where time was too short; then each
        length alone and the unlisted ones, which are left out where no time is left.
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

    def mixes_of(asked: Sequence[Group], choice: Choice, share: Fraction) -> tuple[Mix, ...]:
        solver.begin(share, len(asked), needed=choice is Choice.ALL)
        return rows(lambda: mixes(asked, choice, solver))

    cheapest = mixes_of(groups, Choice.ALL, MIXES_SHARE)
    solver.begin(GROUPINGS_SHARE, grouping_questions(pieces), needed=True)
    parts = rows(lambda: groupings(taken, pieces, solver))
    solver.begin(COVERS_SHARE, cover_questions(taken), needed=True)
    covers = rows(lambda: cover_choices(taken, solver))
    single = mixes_of([one for group in groups for one in single_lengths(group)], Choice.SINGLE, SINGLE_SHARE)
    more = mixes_of(
        [one for group in groups for one in with_each_unlisted(group, tried)], Choice.UNLISTED, REST
    )
    cheapest = tuple(_no_dearer(mix, single) for mix in cheapest)
    materials = [group.material for group in groups]
    return Comparison(
        currency=request.currency if any(group.priced for group in groups) else "",
        mixes=tuple(
            mix
            for material in dict.fromkeys(materials)
            for mix in (*cheapest, *single, *more)
            if mix.material == material
        ),
        groupings=parts,
        covers=covers,
        cut_short=cut_short,
    )


def _no_dearer(mix: Mix, single: Sequence[Mix]) -> Mix:
    """Give the cheapest mix found: one length alone is a mix too, and may have been found sooner."""
    same = (mix, *(one for one in single if one.material == mix.material))
    # One that leaves pieces out is cheaper for that alone.
    least = min(same, key=lambda one: (one.left_out, one.cost))
    return replace(mix, bars=least.bars, cost=least.cost, left_out=least.left_out)
