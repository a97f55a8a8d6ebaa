"""The smoke run."""

import dataclasses

from benchmarks.smoke import run_smoke
from nesting.domain.problem import Problem
from nesting.domain.progress import Result
from tests.benchmarks.brute_force import brute_force


def test_every_class_runs_through_our_solver() -> None:
    """Whoever breaks a reader or the interface of the solver learns it from this."""
    said: list[str] = []
    assert run_smoke(say=said.append) == ()
    assert len(said) >= 20


def _careless(problem: Problem, *, seed: int, time_limit: float) -> Result:
    """Leave the first pattern of a small problem out."""
    if sum(problem.counts) > 10:
        raise RuntimeError("too large for trying everything")
    result = brute_force(problem)
    return dataclasses.replace(result, best=dataclasses.replace(result.best, uses=result.best.uses[1:]))


def test_a_careless_engine_fails_the_smoke_run() -> None:
    """A smoke run that cannot fail protects nothing."""
    failed = run_smoke(engine=_careless)
    assert any("hard28" in line and "unsound" in line for line in failed)
    assert any("demo" in line and "too large" in line for line in failed)
