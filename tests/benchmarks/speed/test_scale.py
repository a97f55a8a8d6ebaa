"""Growth with size."""

import pytest

from benchmarks.peers.greedy import first_fit
from benchmarks.read import problem
from benchmarks.speed import scale
from benchmarks.speed.scale import AXES, Point, measure_scale, steps
from nesting.domain.problem import Problem
from nesting.domain.progress import Result, SolverReport, StopReason


def _greedy(problem: Problem, *, seed: int, time_limit: float) -> Result:
    answer = first_fit(problem, time_limit=time_limit)
    assert answer.packing is not None
    assert answer.bound is not None
    cost = sum(use.times for use in answer.packing.uses)
    return Result(
        best=answer.packing,
        cost=cost,
        bound=answer.bound,
        ended=StopReason.EXHAUSTED,
        report=SolverReport(),
    )


def test_lengths_pieces_and_rulers_grow_apart() -> None:
    """Each axis changes one thing, so that a slope has one cause."""
    counted = [
        (axis, label, len(one.lengths), sum(one.counts))
        for axis, label, _, one in steps()
        if axis != "pieces"
    ]
    assert (AXES[0], "800", 800, 4_000) in counted
    assert [entry[2:] for entry in counted if entry[0] == "ruler"] == [(60, 600)] * 4


def test_points_are_measured_in_order(monkeypatch: pytest.MonkeyPatch) -> None:
    """One point a step, so that the plot shows what was asked for."""
    tiny = problem("a", [6, 4], [1, 1], [(10, None, 1)])
    monkeypatch.setattr(scale, "steps", lambda: [(AXES[0], "2", 2, tiny), (AXES[1], "2", 2, tiny)])
    points = measure_scale(time_limit=5, engine=_greedy)
    assert [(point.axis, point.cost, point.bound) for point in points] == [(AXES[0], 1, 1), (AXES[1], 1, 1)]


POINTS = tuple(
    Point(axis=axis, label=str(size), size=size, seconds=size / 100, cost=5, bound=5 - (size > 50), ended="x")
    for axis in AXES
    for size in (10, 100)
)
