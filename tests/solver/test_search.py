"""The state the steps share."""

from __future__ import annotations

import pytest

from nesting.domain.progress import Progress, StopReason
from nesting.solver.columns import Pattern
from nesting.solver.observe import SILENT
from nesting.solver.reduce import reduce_problem
from nesting.solver.search import Search, Stopped, Worth, measure
from nesting.stop import NEVER, MaxRuntime
from tests.solver.replay import problem

ASKED = problem({60: 3, 40: 3}, 100)
GOOD = ((Pattern(0, ((0, 1), (1, 1))), 3),)
POOR = ((Pattern(0, ((0, 1),)), 3), (Pattern(0, ((1, 2),)), 2))


def test_only_better_plans_are_kept() -> None:
    """What the user has seen never gets worse."""
    search = Search("", reduce_problem(ASKED), stop=NEVER, observer=SILENT)
    assert search.offer(POOR)
    assert search.worth == Worth(0, 5)
    assert search.offer(GOOD)
    assert not search.offer(POOR)
    assert search.plan == GOOD


def test_leaving_less_out_counts_before_cost() -> None:
    """A cheap plan that leaves a piece out is no plan."""
    assert Worth(0, 9).better_than(Worth(1, 0))
    assert Worth(1, 3).better_than(Worth(1, 4))


def test_proof_needs_bound_and_every_piece() -> None:
    """Three bars and a bound of three: proved; without the plan nothing is."""
    search = Search("", reduce_problem(ASKED), stop=NEVER, observer=SILENT)
    search.prove(3)
    assert not search.proved
    search.offer(GOOD)
    assert search.proved


def test_bound_never_falls() -> None:
    """A weaker proof later does not take back a stronger one."""
    search = Search("", reduce_problem(ASKED), stop=NEVER, observer=SILENT)
    search.prove(3)
    search.prove(2)
    assert search.bound == 3


def test_a_stop_unwinds_with_its_reason() -> None:
    """The steps need no checks of their own."""
    ticks = iter(range(100))
    search = Search("", reduce_problem(ASKED), stop=MaxRuntime(3), observer=SILENT, clock=lambda: next(ticks))
    search.poll()
    search.poll()
    with pytest.raises(Stopped) as stopped:
        search.poll()
    assert stopped.value.why is StopReason.TIME


def test_a_search_within_counts_the_seconds_of_both() -> None:
    """The second goal shares the first one's time limit."""
    now = [0.0]
    search = Search("", reduce_problem(ASKED), stop=MaxRuntime(10), observer=SILENT, clock=lambda: now[0])
    now[0] = 8.0
    within = search.within_stop()
    assert within(Progress(elapsed=1.0)) is None
    assert within(Progress(elapsed=2.0)) is StopReason.TIME


def test_surplus_pieces_do_not_count_as_short() -> None:
    """Three bars of 60 + 40 + nothing more leave nothing out; two leave one of each out."""
    reduced = reduce_problem(ASKED)
    assert measure(reduced, GOOD) == Worth(0, 3)
    assert measure(reduced, ((GOOD[0][0], 2),)).short * reduced.weight_unit == 100
