"""
The textbook assignment model in CP-SAT: how many pieces of each length lie on each bar.

Kantorovich (1939/1960), Management Science 6:366-422, with equal pieces counted together. Bars are made
interchangeable no more by ordering their loads; best-fit decreasing gives the number of bars and a start.
"""

from __future__ import annotations

from collections import Counter
from typing import Any

from benchmarks import check
from benchmarks.peers.answer import Answer, packing_of, sizes
from benchmarks.peers.bounds import bars_bound, cost_bound, rounded_up
from benchmarks.peers.greedy import best_fit_packing
from nesting.domain.packing import Packing
from nesting.domain.problem import Problem


def cp_sat_assignment(problem: Problem, *, time_limit: float) -> Answer:
    """Give the best plan of the assignment model within the limit, one worker."""
    from ortools.sat.python import cp_model

    size = sizes(problem)
    start = best_fit_packing(problem)
    ceiling = check.cost(problem, start)
    # No plan as cheap as the start has more bars than this.
    number = ceiling // min(bar.cost for bar in problem.bars)
    kinds = range(len(problem.bars))
    items = range(len(problem.lengths))

    model = cp_model.CpModel()
    taken = [
        [
            model.new_int_var(0, min(problem.counts[i], max(size.capacities) // size.pieces[i]), f"x{j}_{i}")
            for i in items
        ]
        for j in range(number)
    ]
    of_kind = [[model.new_bool_var(f"y{j}_{k}") for k in kinds] for j in range(number)]
    loads = [sum(size.pieces[i] * taken[j][i] for i in items) for j in range(number)]
    for j in range(number):
        model.add(loads[j] <= sum(size.capacities[k] * of_kind[j][k] for k in kinds))
        model.add_at_most_one(of_kind[j])
        if j:
            model.add(loads[j] <= loads[j - 1])
            model.add(sum(of_kind[j]) <= sum(of_kind[j - 1]))
    for j in range(bars_bound(problem)):
        model.add(sum(of_kind[j]) == 1)
    for i in items:
        model.add(sum(taken[j][i] for j in range(number)) == problem.counts[i])
    cost = sum(problem.bars[k].cost * of_kind[j][k] for j in range(number) for k in kinds)
    model.add(cost >= cost_bound(problem))
    model.add(cost <= ceiling)
    model.minimize(cost)
    _hint(model, taken, of_kind, size.pieces, start)

    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = time_limit
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    bound = max(cost_bound(problem), rounded_up(problem, float(solver.best_objective_bound)))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Answer(packing=None, bound=bound, ended=str(solver.status_name(status)).lower())
    bars = [
        (
            max(kinds, key=lambda k: int(solver.value(of_kind[j][k]))),
            Counter({i: int(solver.value(taken[j][i])) for i in items}),
        )
        for j in range(number)
    ]
    return Answer(
        packing=packing_of(problem, bars), bound=bound, ended=str(solver.status_name(status)).lower()
    )


def _hint(
    model: Any,
    taken: list[list[Any]],
    of_kind: list[list[Any]],
    pieces: tuple[int, ...],
    start: Packing,
) -> None:
    """Offer the greedy plan as a start, its bars in the order the model wants."""
    bars = [(use.bar, dict(use.pieces)) for use in start.uses for _ in range(use.times)]
    bars.sort(key=lambda bar: -sum(pieces[i] * n for i, n in bar[1].items()))
    for j, row in enumerate(taken):
        kind, content = bars[j] if j < len(bars) else (None, {})
        for i, variable in enumerate(row):
            model.add_hint(variable, content.get(i, 0))
        for k, variable in enumerate(of_kind[j]):
            model.add_hint(variable, int(k == kind))
