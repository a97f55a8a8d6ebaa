"""Among offcuts that serve equally well, the oldest first."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.goals import GoalPrice
from nesting.domain.packing import PatternUse, remainder, scrap_of, tail_of
from nesting.domain.problem import Problem
from nesting.planning.long_tail import longest_tail
from nesting.planning.settle import Settled

OLDER_LEFT = "younger offcuts taken before older ones"


def with_oldest_offcuts(settled: Settled) -> Settled:
    """
    Exchange offcuts for older ones of the rack that serve as well, and say how many.

    An older one serves as well when the same pieces fit it, it is charged with no more, and it leaves no
    more scrap; a longer one is not shortened to a tail where the younger one would be used up. Offcuts
    of no known age count as the youngest, so none is taken in the place of another for its age.
    """
    group, result = settled.group, settled.result
    born = dict(group.born)
    problem = group.problem
    if not born or group.mitre is not None:
        return settled
    uses = list(result.best.uses)
    taken = {use.bar for use in uses}
    exchanged = 0
    # The youngest gives way first, to the oldest that can take its place.
    for place in sorted(range(len(uses)), key=lambda p: _age(problem, born, uses[p].bar), reverse=True):
        use = uses[place]
        if not problem.bars[use.bar].offcut:
            continue
        older = [
            bar
            for bar, kind in enumerate(problem.bars)
            if kind.offcut
            and bar not in taken
            and kind.key in born
            and _age(problem, born, bar) < _age(problem, born, use.bar)
            and _serves(problem, use, bar)
        ]
        if older:
            oldest = min(older, key=lambda bar: (_age(problem, born, bar), problem.bars[bar].length))
            taken = taken - {use.bar} | {oldest}
            uses[place] = PatternUse(oldest, use.pieces, use.times)
            exchanged += 1
    if not exchanged:
        return settled
    cost = result.cost + sum(
        problem.bars[now.bar].cost - problem.bars[was.bar].cost
        for was, now in zip(result.best.uses, uses, strict=True)
    )
    price = GoalPrice(
        goal=OLDER_LEFT, cost_before=result.cost, cost_after=cost, value_before=exchanged, value_after=0
    )
    best = replace(result.best, uses=tuple(sorted(uses)))
    if group.goals.long_tail and longest_tail(problem, best) < longest_tail(problem, result.best):
        return settled
    older_first = replace(result, best=best, cost=cost, bound=min(result.bound, cost))
    return replace(settled, result=older_first, goals=(*settled.goals, price))


def _age(problem: Problem, born: dict[str, str], bar: int) -> str:
    """Give the day of birth, as a text that sorts; unknown comes after every day."""
    return born.get(problem.bars[bar].key, "9999-99-99")


def _serves(problem: Problem, use: PatternUse, bar: int) -> bool:
    kind, now = problem.bars[bar], problem.bars[use.bar]
    if kind.cost > now.cost or kind.count == 0 or remainder(problem, bar, use.pieces) < kind.tail:
        return False
    if scrap_of(problem, bar, use.pieces) > scrap_of(problem, use.bar, use.pieces):
        return False
    keep = problem.keep_length
    shortened = tail_of(problem, bar, use.pieces) >= keep > tail_of(problem, use.bar, use.pieces)
    return not (kind.length > now.length and shortened)
