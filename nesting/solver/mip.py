"""Integer programmes in SCIP (through OR-Tools), which a stop criterion can end at any moment."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

POLL_SECONDS = 0.05
INTERRUPT_SECONDS = 0.25


class Outcome(Enum):
    """How an integer programme ended."""

    OPTIMAL = "optimal"
    IMPOSSIBLE = "impossible"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Row:
    """``low <= sum(entry * variable) <= high``; None for no limit."""

    low: int | None
    high: int | None
    entries: Sequence[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Answer:
    """
    What came of an integer programme.

    Parameters
    ----------
    outcome
        Whether it was solved, shown impossible, or left open.
    values
        Whole values of the variables, the best found; empty when none was.
    """

    outcome: Outcome
    values: tuple[int, ...]


def solve_mip(
    costs: Sequence[int],
    highs: Sequence[int],
    rows: Sequence[Row],
    *,
    max_nodes: int,
    stopping: Callable[[], bool],
    settings: str = "",
) -> Answer:
    """
    Minimise whole-number costs over whole variables from 0 to ``highs``.

    Parameters
    ----------
    max_nodes
        Nodes of the search tree before it is left open; the same on every machine.
    stopping
        Asked every twentieth of a second; the search ends soon after it says yes.
    settings
        Further SCIP parameters, one a line.
    """
    from ortools.linear_solver import pywraplp

    solver = pywraplp.Solver.CreateSolver("SCIP")
    infinity = solver.infinity()
    variables = [solver.IntVar(0, high, "") for high in highs]
    for row in rows:
        low = -infinity if row.low is None else row.low
        high = infinity if row.high is None else row.high
        constraint = solver.RowConstraint(low, high, "")
        for variable, entry in row.entries:
            constraint.SetCoefficient(variables[variable], entry)
    objective = solver.Objective()
    for variable, cost in zip(variables, costs, strict=True):
        if cost:
            objective.SetCoefficient(variable, cost)
    objective.SetMinimization()
    solver.SetSolverSpecificParametersAsString(f"limits/nodes = {max_nodes}\n{settings}")
    status = _solve(solver, stopping)
    if status is None:
        return Answer(Outcome.OPEN, ())
    if status == solver.INFEASIBLE:
        return Answer(Outcome.IMPOSSIBLE, ())
    if status in (solver.OPTIMAL, solver.FEASIBLE):
        values = tuple(round(variable.solution_value()) for variable in variables)
        return Answer(Outcome.OPTIMAL if status == solver.OPTIMAL else Outcome.OPEN, values)
    return Answer(Outcome.OPEN, ())


def _solve(solver: Any, stopping: Callable[[], bool]) -> int | None:
    """
    Run the solver in a second thread, so that a stop need not wait for it.

    The solver looks for an interruption between two linear programmes only. When it does not end
    soon after one, it is left to end by itself; None then.
    """
    statuses: list[int] = []
    worker = threading.Thread(target=lambda: statuses.append(solver.Solve()), daemon=True)
    worker.start()
    patience = INTERRUPT_SECONDS
    while worker.is_alive():
        worker.join(POLL_SECONDS)
        if worker.is_alive() and stopping():
            solver.InterruptSolve()
            patience -= POLL_SECONDS
            if patience <= 0:
                return None
    return statuses[0] if statuses else None
