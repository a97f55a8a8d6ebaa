"""A settled group with what is left over in one long tail, at the same cost and with no more scrap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from nesting.domain.goals import GoalPrice, Slivers
from nesting.domain.packing import Packing, PatternUse, tail_of, total_scrap
from nesting.domain.plan import PlannedBar
from nesting.domain.problem import Problem
from nesting.planning.settle import Settled, opened
from nesting.planning.slivers import sliver_count
from nesting.purchasing.search import QUICK
from nesting.solver.solve import solve
from nesting.stop import NEVER, AnyOf, CostReached, Stop
from nesting.units import Length, mm

LONGEST_TAIL = "longest tail"
_TRIES = 10
_CLOSE = mm(5)


def longest_tail(problem: Problem, packing: Packing) -> Length:
    """Give the longest tail of all bars; 0 when none has one."""
    return max((tail_of(problem, use.bar, use.pieces) for use in packing.uses), default=Length(0))


def with_longest_tail(settled: Settled, *, seed: int = 0, stop: Stop = NEVER) -> Settled:
    """
    Collect what is left over in one tail as long as can be, and say what came of it.

    The group is cut again with one piece more; where that finds room at no more cost and no more scrap,
    it is left on its bar as the tail. Its length is sought by bisection, to 5 mm. Mitred pieces stay as
    they are laid; what their longest tail is, is known when they are.

    Parameters
    ----------
    stop
        Ends the search; what was found until then is kept.
    """
    group, result, best = settled.group, settled.result, settled
    problem = group.problem
    if group.mitre is not None:
        return settled
    before = longest_tail(problem, result.best)
    if not result.short and result.best.uses:
        tails = sum(tail_of(problem, use.bar, use.pieces) * use.times for use in result.best.uses)
        low, high = int(before), min(max(int(bar.usable) for bar in problem.bars), tails)
        for _ in range(_TRIES):
            if high - low <= _CLOSE:
                break
            wanted = high if high - low > tails // 2 else (low + high) // 2
            found = _with_tail_of(settled, Length(wanted), seed, stop)
            if found is None:
                high = wanted - 1
                continue
            best = found
            low = max(wanted, int(longest_tail(problem, found.result.best)))
    price = GoalPrice(
        goal=LONGEST_TAIL,
        cost_before=result.cost,
        cost_after=best.result.cost,
        value_before=before,
        value_after=longest_tail(problem, best.result.best),
    )
    return replace(best, goals=(*settled.goals, price))


def tail_price(bars: Sequence[PlannedBar], told: Sequence[GoalPrice], *, cost: int) -> tuple[GoalPrice, ...]:
    """Give the goals with the longest tail the bars really have: later goals may have made it longer."""
    true = max((int(bar.tail) for bar in bars), default=0)
    if all(price.goal != LONGEST_TAIL for price in told):
        price = GoalPrice(
            goal=LONGEST_TAIL, cost_before=cost, cost_after=cost, value_before=true, value_after=true
        )
        return (*told, price)
    return tuple(replace(one, value_after=true) if one.goal == LONGEST_TAIL else one for one in told)


def _with_tail_of(settled: Settled, length: Length, seed: int, stop: Stop) -> Settled | None:
    """Give the group with a tail of at least that length; None when none was found."""
    group, result = settled.group, settled.result
    problem = group.problem
    longer, place = _with_piece(problem, length)
    limit = sum(problem.bars[use.bar].cost * use.times for use in result.best.uses)
    made = solve(longer, seed=seed, stop=AnyOf(stop, CostReached(limit)), params=QUICK).best
    if any(made.short):
        return None
    packing = _left_on_its_bar(problem, made, place)
    if longest_tail(problem, packing) < length:
        return None  # it lay on a bar of its own, which stays shut and has no tail
    changed = replace(result, best=packing)
    bill = group.market.bill(opened(group, changed)) if group.market.uses else settled.bill
    if bill is None:
        return None
    kinds = len(group.market.uses)
    cost = bill.cost + sum(problem.bars[use.bar].cost * use.times for use in packing.uses if use.bar >= kinds)
    slivers = group.goals.slivers is Slivers.FORBID and sliver_count(problem, packing)
    if cost > result.cost or total_scrap(problem, packing) > total_scrap(problem, result.best) or slivers:
        return None
    return replace(settled, result=replace(changed, cost=cost, bound=min(result.bound, cost)), bill=bill)


def _with_piece(problem: Problem, length: Length) -> tuple[Problem, int]:
    """Give the problem with one piece more, and its place among the lengths."""
    place = sum(1 for other in problem.lengths if other > length)
    counts = list(problem.counts)
    lengths = list(problem.lengths)
    if length in lengths:
        counts[place] += 1
    else:
        lengths.insert(place, length)
        counts.insert(place, 1)
    return replace(problem, lengths=tuple(lengths), counts=tuple(counts)), place


def _left_on_its_bar(problem: Problem, packing: Packing, place: int) -> Packing:
    """Take one piece at ``place`` off the plan again; a bar that held nothing else stays shut."""
    known = len(packing.short) == len(problem.lengths)
    uses: list[PatternUse] = []
    taken = False
    for use in packing.uses:
        counts = dict(use.pieces)
        if taken or not counts.get(place):
            uses.append(_renumbered(use, place, known))
            continue
        taken = True
        if use.times > 1:
            uses.append(_renumbered(PatternUse(use.bar, use.pieces, use.times - 1), place, known))
        counts[place] -= 1
        left = tuple((i, n) for i, n in sorted(counts.items()) if n)
        if left:
            uses.append(_renumbered(PatternUse(use.bar, left, 1), place, known))
    merged: dict[tuple[int, tuple[tuple[int, int], ...]], int] = {}
    for use in uses:
        merged[use.bar, use.pieces] = merged.get((use.bar, use.pieces), 0) + use.times
    return Packing(
        tuple(PatternUse(bar, pieces, times) for (bar, pieces), times in sorted(merged.items())),
        (0,) * len(problem.lengths),
    )


def _renumbered(use: PatternUse, place: int, known: bool) -> PatternUse:
    """Give the pattern by the problem's own lengths, where the piece was of a length of its own."""
    if known:
        return use
    return PatternUse(use.bar, tuple((i - 1 if i > place else i, n) for i, n in use.pieces), use.times)
