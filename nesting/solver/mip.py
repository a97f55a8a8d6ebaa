"""Integer programmes in HiGHS, which a stop criterion can end at any moment."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

import numpy as np

from nesting.solver.highs import silent

POLL_SECONDS = 0.05
INTERRUPT_SECONDS = 0.25


class Outcome(Enum):
    """How a closing search ended; found: a plan good enough, perhaps not the best."""

    OPTIMAL = "optimal"
    IMPOSSIBLE = "impossible"
    FOUND = "found"
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
    presolve: bool = True,
) -> Answer:
    """
    Minimise whole-number costs over whole variables from 0 to ``highs``.

    Parameters
    ----------
    max_nodes
        Nodes of the search tree before it is left open; the same on every machine.
    stopping
        Asked every twentieth of a second; the search ends soon after it says yes.
    presolve
        Whether the programme is made smaller first.
    """
    import highspy

    solver = silent()
    for option, value in (
        ("mip_max_nodes", max_nodes),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.5),  # costs are whole
        ("presolve", "choose" if presolve else "off"),
    ):
        solver.setOptionValue(option, value)
    solver.passModel(_model(highspy, costs, highs, rows))
    solver.HandleUserInterrupt = True
    if not _run(solver, stopping):
        return Answer(Outcome.OPEN, ())
    status = solver.getModelStatus()
    if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        return Answer(Outcome.IMPOSSIBLE, ())
    solution = solver.getSolution()
    if not solution.value_valid:
        return Answer(Outcome.OPEN, ())
    values = tuple(round(value) for value in solution.col_value)
    if not _holds(values, rows):
        return Answer(Outcome.OPEN, ())
    optimal = status == highspy.HighsModelStatus.kOptimal
    return Answer(Outcome.OPTIMAL if optimal else Outcome.OPEN, values)


def _model(highspy: Any, costs: Sequence[int], highs: Sequence[int], rows: Sequence[Row]) -> Any:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(costs), len(rows)
    model.col_cost_ = np.array(costs, np.float64)
    model.col_lower_ = np.zeros(len(costs))
    model.col_upper_ = np.array(highs, np.float64)
    infinity = highspy.kHighsInf
    model.row_lower_ = np.array([-infinity if r.low is None else r.low for r in rows], np.float64)
    model.row_upper_ = np.array([infinity if r.high is None else r.high for r in rows], np.float64)
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.start_ = np.cumsum([0, *(len(row.entries) for row in rows)])
    matrix.index_ = np.array([variable for row in rows for variable, _ in row.entries], np.int64)
    matrix.value_ = np.array([entry for row in rows for _, entry in row.entries], np.float64)
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    return model


def _holds(values: Sequence[int], rows: Sequence[Row]) -> bool:
    """Whether the rounded values meet every row exactly."""
    for row in rows:
        total = sum(entry * values[variable] for variable, entry in row.entries)
        if (row.low is not None and total < row.low) or (row.high is not None and total > row.high):
            return False
    return True


def _run(solver: Any, stopping: Callable[[], bool]) -> bool:
    """
    Run the solver in a second thread, so that a stop need not wait for it; say whether it ended.

    When it does not end soon after it was asked to, it is left to end by itself.
    """
    worker = threading.Thread(target=solver.run, daemon=True)
    worker.start()
    patience = INTERRUPT_SECONDS
    while worker.is_alive():
        worker.join(POLL_SECONDS)
        if worker.is_alive() and stopping():
            solver.cancelSolve()
            patience -= POLL_SECONDS
            if patience <= 0:
                return False
    return True
