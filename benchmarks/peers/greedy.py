"""First-fit and best-fit decreasing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from benchmarks import check
from benchmarks.peers.answer import Answer, Sizes, packing_of, sizes
from benchmarks.peers.bounds import cost_bound
from nesting.domain.packing import Packing
from nesting.domain.problem import Problem

_Choose = Callable[[Sequence[int], int], int | None]


def first_fit(problem: Problem, *, time_limit: float) -> Answer:
    """Put each piece, longest first, on the first bar that still has room."""
    return Answer(packing=_decreasing(problem, _first), bound=cost_bound(problem), ended="done")


def best_fit(problem: Problem, *, time_limit: float) -> Answer:
    """Put each piece, longest first, on the bar that it leaves least room on."""
    return Answer(packing=best_fit_packing(problem), bound=cost_bound(problem), ended="done")


def best_fit_packing(problem: Problem) -> Packing:
    """Give the plan of best-fit decreasing, which the exact models start from."""
    return _decreasing(problem, _tightest)


def _first(rooms: Sequence[int], size: int) -> int | None:
    return next((j for j, room in enumerate(rooms) if room >= size), None)


def _tightest(rooms: Sequence[int], size: int) -> int | None:
    fitting = [(room, j) for j, room in enumerate(rooms) if room >= size]
    return min(fitting)[1] if fitting else None


def _decreasing(problem: Problem, choose: _Choose) -> Packing:
    """Fill bars of each kind in turn, move every content to the cheapest kind, keep the cheapest plan."""
    size = sizes(problem)
    plans = [
        _on_one_kind(problem, size, capacity, choose)
        for capacity in sorted(set(size.capacities))
        if capacity >= size.pieces[0]
    ]
    return min(plans, key=lambda plan: check.cost(problem, plan))


def _on_one_kind(problem: Problem, size: Sizes, capacity: int, choose: _Choose) -> Packing:
    rooms: list[int] = []
    contents: list[Counter[int]] = []
    for i, count in enumerate(problem.counts):
        for _ in range(count):
            j = choose(rooms, size.pieces[i])
            if j is None:
                j = len(rooms)
                rooms.append(capacity)
                contents.append(Counter())
            rooms[j] -= size.pieces[i]
            contents[j][i] += 1
    return packing_of(
        problem,
        (
            (_cheapest(problem, size, capacity - room), content)
            for room, content in zip(rooms, contents, strict=True)
        ),
    )


def _cheapest(problem: Problem, size: Sizes, load: int) -> int:
    return min(
        (k for k, capacity in enumerate(size.capacities) if capacity >= load),
        key=lambda k: (problem.bars[k].cost, size.capacities[k]),
    )
