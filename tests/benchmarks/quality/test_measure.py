"""Measuring one case and judging the answer."""

import dataclasses
import time

import pytest

from benchmarks.case import Case
from benchmarks.quality.measure import Run, against, judge, measure, timed
from benchmarks.quality.row import Row
from benchmarks.read import problem
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import Problem
from nesting.domain.progress import Result
from tests.benchmarks.brute_force import brute_force

# 6 + 4 and 5 + 5 fill two bars of 10.
CASE = Case(name="two bars", problem=problem("two", [6, 5, 4], [1, 2, 1], [(10, None, 1)]), best_known=2)


def _judged(result: Result, case: Case = CASE) -> Row:
    return judge(case, "some", Run(result=result), time_limit=5, seed=1, revision="r", warm=True)


def test_a_proved_best_plan_is_told_as_such() -> None:
    """The row says value, bound and standing against the best known value."""
    row = measure(CASE, "some", engine=brute_force, time_limit=5, seed=1, revision="r", fresh=False)
    assert (row.value, row.bound, row.gap, row.proved, row.against) == (2, 2, 0.0, True, "equal")
    assert (row.lengths, row.pieces, row.warm) == (3, 4, True)


def test_a_fresh_process_gives_the_same_answer() -> None:
    """Only time and memory may depend on the process."""
    row = measure(CASE, "some", engine=brute_force, time_limit=5, seed=1, revision="r", fresh=True)
    assert (row.value, row.proved, row.warm) == (2, True, False)


def test_an_engine_that_fails_still_gives_a_row() -> None:
    """Losing rows are part of the result."""

    def broken(problem: Problem, *, seed: int, time_limit: float) -> Result:
        raise ArithmeticError("overflow")

    row = measure(CASE, "some", engine=broken, time_limit=5, seed=1, revision="r", fresh=False)
    assert (row.value, row.against, row.ended) == (None, "worse", "ArithmeticError: overflow")


def test_an_engine_that_dies_still_gives_a_row() -> None:
    """A fresh process that gives nothing is a row with the reason."""
    run = Run(failure="the process died with exit code 9")
    row = judge(CASE, "some", run, time_limit=5, seed=1, revision="r", warm=False)
    assert (row.proved, row.ended) == (False, "the process died with exit code 9")


GOOD = brute_force(CASE.problem)


@pytest.mark.parametrize(
    ("result", "why"),
    [
        (dataclasses.replace(GOOD, best=Packing(GOOD.best.uses[:1], (0, 0, 0))), "unsound: length"),
        (dataclasses.replace(GOOD, bound=3), "unsound: bound 3 above the known 2"),
        (dataclasses.replace(GOOD, cost=1, bound=1), "unsound: said to cost 1, costs 2"),
        (
            dataclasses.replace(GOOD, best=Packing((PatternUse(0, ((0, 1), (2, 1)), 1),), (0, 2, 0))),
            "2 pieces short",
        ),
    ],
)
def test_what_cannot_be_true_has_no_value(result: Result, why: str) -> None:
    """The harness's check decides, not the engine's word."""
    row = _judged(result)
    assert row.value is None
    assert not row.proved
    assert why in row.ended


def test_a_bound_above_a_known_plan_is_unsound() -> None:
    """Three bars said to be least, where a plan of two is known: the proof is wrong."""
    worse = Packing(
        (PatternUse(0, ((0, 1),), 1), PatternUse(0, ((1, 2),), 1), PatternUse(0, ((2, 1),), 1)), (0, 0, 0)
    )
    row = _judged(dataclasses.replace(GOOD, best=worse, cost=3, bound=3))
    assert (row.proved, row.ended) == (False, "unsound: bound 3 above the known 2")


@pytest.mark.parametrize(
    ("value", "best_known", "standing"),
    [(2, 2, "equal"), (3, 2, "worse"), (1, 2, "better"), (None, 2, "worse"), (2, None, "unknown")],
)
def test_standing_against_the_best_known_value(
    value: int | None, best_known: int | None, standing: str
) -> None:
    """No plan at all is worse than any plan."""
    assert against(value, best_known) == standing


def test_time_and_memory_are_of_the_call() -> None:
    """Every row states what its run took."""

    def slow(problem: Problem, *, seed: int, time_limit: float) -> Result:
        time.sleep(0.05)
        return brute_force(problem)

    run = timed(engine=slow, problem=CASE.problem, seed=1, time_limit=5)
    assert run.seconds >= 0.05
    assert run.cpu_seconds < run.seconds
    assert run.peak_mib > 0


def test_a_plan_under_its_own_bound_is_unsound_where_nothing_is_known() -> None:
    """The engine contradicts itself; no published value is needed to see that."""
    row = _judged(dataclasses.replace(GOOD, bound=3), dataclasses.replace(CASE, best_known=None))
    assert (row.value, row.ended) == (None, "unsound: value 2 under bound 3")
