"""Our solver as one of the compared methods."""

from __future__ import annotations

from benchmarks.engine import ours
from benchmarks.peers.answer import Answer
from nesting.domain.problem import Problem


def our_solver(problem: Problem, *, time_limit: float) -> Answer:
    """Give our solver's plan and bound within the limit."""
    result = ours(problem, seed=1, time_limit=time_limit)
    return Answer(packing=result.best, bound=result.bound, ended=result.ended.value)
