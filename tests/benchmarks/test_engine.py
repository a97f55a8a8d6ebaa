"""The solver as the benchmarks call it."""

from benchmarks import check
from benchmarks.cases.demo import CLASSES
from benchmarks.engine import ours


def test_our_solver_answers_with_a_plan_that_can_be_sawn() -> None:
    """The harness measures the very solver the product uses."""
    case = CLASSES[0].tiny()
    result = ours(case.problem, seed=1, time_limit=30)
    assert check.faults(case.problem, result.best) == ()
    assert result.cost == case.best_known
