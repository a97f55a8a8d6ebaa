"""Plain arc-flow in HiGHS."""

from __future__ import annotations

import math
import time
from typing import Any

from benchmarks.peers.answer import Answer
from benchmarks.peers.arc_flow import ArcFlow, ModelTooLarge, arc_flow, flow_of_packing, packing_of_flow
from benchmarks.peers.bounds import cost_bound, rounded_up
from benchmarks.peers.greedy import best_fit_packing
from nesting.domain.problem import Problem


def highs_arc_flow(problem: Problem, *, time_limit: float) -> Answer:
    """Give the best plan HiGHS finds on the arc-flow model within the limit, model building included."""
    import highspy

    started = time.monotonic()
    try:
        graph = arc_flow(problem)
    except ModelTooLarge as why:
        return Answer(packing=None, bound=cost_bound(problem), ended=str(why))
    engine = highspy.Highs()
    engine.setOptionValue("output_flag", False)
    engine.setOptionValue("threads", 1)
    if engine.passModel(_model(problem, graph)) == highspy.HighsStatus.kError:
        raise RuntimeError("HiGHS refused the model.")
    start = highspy.HighsSolution()
    start.col_value = [float(value) for value in flow_of_packing(problem, graph, best_fit_packing(problem))]
    engine.setSolution(start)
    engine.setOptionValue("time_limit", max(0.1, time_limit - (time.monotonic() - started)))
    engine.run()
    info = engine.getInfo()
    bound = cost_bound(problem)
    if math.isfinite(info.mip_dual_bound):
        bound = max(bound, rounded_up(problem, float(info.mip_dual_bound)))
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    packing = (
        packing_of_flow(problem, graph, [round(value) for value in engine.getSolution().col_value])
        if found
        else None
    )
    ended = str(engine.modelStatusToString(engine.getModelStatus())).lower()
    return Answer(packing=packing, bound=bound, ended=ended)


def _model(problem: Problem, graph: ArcFlow) -> Any:
    """Rows: balance of every node but the first, demand of every length, and the cost bound."""
    import highspy
    import numpy as np

    nodes, items, kinds = len(graph.nodes) - 1, len(problem.lengths), len(problem.bars)
    starts, rows, values = [0], [], []
    for tail, head, item in graph.arcs:
        entries = [(head - 1, 1.0)]
        if tail:
            entries.append((tail - 1, -1.0))
        if item >= 0:
            entries.append((nodes + item, 1.0))
        rows += [row for row, _ in entries]
        values += [value for _, value in entries]
        starts.append(len(rows))
    for bar, end in zip(problem.bars, graph.ends, strict=True):
        rows += [end - 1, nodes + items]
        values += [-1.0, float(bar.cost)]
        starts.append(len(rows))
    most = sum(problem.counts)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(graph.arcs) + kinds, nodes + items + 1
    model.col_cost_ = np.array([0.0] * len(graph.arcs) + [float(bar.cost) for bar in problem.bars])
    model.col_lower_ = np.zeros(model.num_col_)
    model.col_upper_ = np.array(
        [float(problem.counts[item] if item >= 0 else most) for _, _, item in graph.arcs]
        + [float(most)] * kinds
    )
    lower = [0.0] * nodes + [float(count) for count in problem.counts] + [float(cost_bound(problem))]
    model.row_lower_ = np.array(lower)
    model.row_upper_ = np.array([0.0] * nodes + [highspy.kHighsInf] * (items + 1))
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.array(starts)
    model.a_matrix_.index_ = np.array(rows)
    model.a_matrix_.value_ = np.array(values)
    model.integrality_ = [highspy.HighsVarType.kInteger] * model.num_col_
    return model
