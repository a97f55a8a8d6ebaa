"""Our solver as the benchmarks call it: a problem, a seed and seconds in, a result out."""

from __future__ import annotations

from typing import Protocol

from nesting.domain.problem import Problem
from nesting.domain.progress import Result


class Engine(Protocol):
    """Anything that can be measured like our solver; tests pass small stand-ins."""

    def __call__(self, problem: Problem, *, seed: int, time_limit: float) -> Result:
        """Give the best plan found within ``time_limit`` seconds."""
        ...


def ours(problem: Problem, *, seed: int, time_limit: float) -> Result:
    """Solve with the project's solver under a wall-clock limit in seconds."""
    from nesting.solver.solve import solve
    from nesting.stop import MaxRuntime

    return solve(problem, seed=seed, stop=MaxRuntime(time_limit))
