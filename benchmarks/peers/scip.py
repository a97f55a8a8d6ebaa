"""Plain arc-flow in SCIP, through OR-Tools."""

from __future__ import annotations

import math
import time

from benchmarks.peers.answer import Answer
from benchmarks.peers.arc_flow import ModelTooLarge, arc_flow, flow_of_packing, packing_of_flow
from benchmarks.peers.bounds import cost_bound, rounded_up
from benchmarks.peers.greedy import best_fit_packing
from nesting.domain.problem import Problem


def scip_arc_flow(problem: Problem, *, time_limit: float) -> Answer:
    """Give the best plan SCIP finds on the arc-flow model within the limit, model building included."""
    from ortools.linear_solver import pywraplp

    started = time.monotonic()
    try:
        graph = arc_flow(problem)
    except ModelTooLarge as why:
        return Answer(packing=None, bound=cost_bound(problem), ended=str(why))
    solver = pywraplp.Solver.CreateSolver("SCIP")
    most = sum(problem.counts)
    balance = [solver.Constraint(0, 0) for _ in graph.nodes]
    demand = [solver.Constraint(count, solver.infinity()) for count in problem.counts]
    flow = []
    for tail, head, item in graph.arcs:
        variable = solver.IntVar(0, problem.counts[item] if item >= 0 else most, "")
        if tail:
            balance[tail].SetCoefficient(variable, -1)
        balance[head].SetCoefficient(variable, 1)
        if item >= 0:
            demand[item].SetCoefficient(variable, 1)
        flow.append(variable)
    floor = solver.Constraint(cost_bound(problem), solver.infinity())
    for bar, end in zip(problem.bars, graph.ends, strict=True):
        variable = solver.IntVar(0, most, "")
        balance[end].SetCoefficient(variable, -1)
        floor.SetCoefficient(variable, bar.cost)
        solver.Objective().SetCoefficient(variable, bar.cost)
        flow.append(variable)
    solver.Objective().SetMinimization()
    solver.SetHint(
        flow, [float(value) for value in flow_of_packing(problem, graph, best_fit_packing(problem))]
    )
    solver.SetTimeLimit(max(1, int(1000 * (time_limit - (time.monotonic() - started)))))
    status = solver.Solve()
    found = status in (pywraplp.Solver.OPTIMAL, pywraplp.Solver.FEASIBLE)
    proven = float(solver.Objective().BestBound()) if found else -math.inf
    bound = cost_bound(problem)
    if math.isfinite(proven):
        bound = max(bound, rounded_up(problem, proven))
    packing = (
        packing_of_flow(problem, graph, [round(variable.solution_value()) for variable in flow])
        if found
        else None
    )
    ended = "optimal" if status == pywraplp.Solver.OPTIMAL else "time limit"
    return Answer(packing=packing, bound=bound, ended=ended)
