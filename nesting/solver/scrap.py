"""Second goal: among plans of one cost, one that throws less away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from nesting.domain.packing import Packing, PatternUse, cost_of, tail_of, total_scrap
from nesting.domain.problem import Problem
from nesting.domain.progress import Result
from nesting.solver.columns import Pieces
from nesting.stop import AnyOf, CostReached, Stop
from nesting.units import NO_LENGTH


def less_scrap(
    problem: Problem,
    packing: Packing,
    search_again: Callable[[Problem, Stop], Result],
    *,
    stop: Stop,
    tries: int,
) -> Packing:
    """
    Give a plan of the same cost, the same pieces and no more scrap.

    Bars of one cost leave about the same metal behind in all; less of it is scrap when it collects
    in tails long enough to keep. So the group is cut again with some pieces more, each as
    long as the shortest tail worth keeping; where they find room at no higher cost, they are left
    on the bars as tails. Their number is sought by bisection.

    Parameters
    ----------
    search_again
        Solves a group within limits of its own.
    tries
        Numbers of such pieces that are tried.
    """
    if problem.keep_length == 0 or any(packing.short):
        return packing
    if problem.keep_length > max((bar.usable for bar in problem.bars), default=NO_LENGTH):
        return packing  # no bar can leave a tail worth keeping
    cost = cost_of(problem, packing)
    best, least = packing, total_scrap(problem, packing)
    spare = sum(tail_of(problem, use.bar, use.pieces) * use.times for use in packing.uses)
    most = spare // (problem.keep_length + problem.kerf)
    low, high = sum(_kept(problem, use) for use in packing.uses), most + 1
    for _ in range(tries):
        if least == 0 or high - low <= 1:
            break
        number = high - 1 if high > most else (low + high) // 2
        fuller, place = _with_tails(problem, number)
        again = search_again(fuller, AnyOf(stop, CostReached(cost))).best
        if any(again.short) or cost_of(problem, again) > cost:
            high = number
            continue
        low = number
        plan = _left_on_bars(problem, again, place, number)
        scrap = total_scrap(problem, plan)
        if scrap < least:
            best, least = plan, scrap
    return best


def _kept(problem: Problem, use: PatternUse) -> int:
    return use.times if tail_of(problem, use.bar, use.pieces) >= problem.keep_length else 0


def _with_tails(problem: Problem, number: int) -> tuple[Problem, int]:
    """Give the problem with ``number`` pieces more, and their place among the lengths."""
    length = problem.keep_length
    if length in problem.lengths:
        place = problem.lengths.index(length)
        counts = list(problem.counts)
        counts[place] += number
        return replace(problem, counts=tuple(counts)), place
    place = sum(1 for other in problem.lengths if other > length)
    return (
        replace(
            problem,
            lengths=(*problem.lengths[:place], length, *problem.lengths[place:]),
            counts=(*problem.counts[:place], number, *problem.counts[place:]),
        ),
        place,
    )


def _left_on_bars(problem: Problem, packing: Packing, place: int, number: int) -> Packing:
    """Take ``number`` pieces at ``place`` off the plan again."""
    added = problem.keep_length not in problem.lengths
    uses: dict[tuple[int, Pieces], int] = {}
    for use in packing.uses:
        counts = dict(use.pieces)
        there = counts.get(place, 0)
        left = use.times
        while left:
            off = min(there, number)
            run = left if off == 0 else min(left, number // off)
            number -= off * run
            kept = {i: n - off if i == place else n for i, n in counts.items()}
            pieces = tuple((i - 1 if added and i > place else i, n) for i, n in sorted(kept.items()) if n)
            if pieces:
                uses[use.bar, pieces] = uses.get((use.bar, pieces), 0) + run
            left -= run
    return Packing(
        tuple(PatternUse(bar, pieces, times) for (bar, pieces), times in sorted(uses.items())),
        (0,) * len(problem.lengths),
    )
