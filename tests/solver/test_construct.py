"""The first plan: at once, complete, offcuts first."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.bounds import volume_bound
from nesting.domain.problem import BarKind
from nesting.solver.construct import construct
from nesting.solver.reduce import Reduced, reduce_problem
from nesting.solver.search import Plan, measure
from nesting.units import Length
from tests.solver.replay import problem


def start(reduced: Reduced) -> Plan:
    return construct(reduced, reduced.demands, [kind.supply for kind in reduced.kinds])


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.integers(5, 100), st.integers(1, 9), min_size=1, max_size=12))
def test_needs_at_most_twice_the_bound(pieces: dict[int, int]) -> None:
    """Any two of its bars hold more than one bar's worth, so at most 2 x + 1."""
    asked = problem(pieces, 100)
    reduced = reduce_problem(asked)
    worth = measure(reduced, start(reduced))
    assert worth.short == 0
    assert worth.cost <= 2 * volume_bound(asked) + 1


def test_free_offcut_is_taken_before_a_new_bar() -> None:
    """45 fits the offcut of 50, which costs nothing."""
    bars = [
        BarKind(key="new", length=Length(100), cost=10),
        BarKind(key="offcut", length=Length(50), cost=0, count=1),
    ]
    reduced = reduce_problem(problem({45: 1}, bars))
    assert measure(reduced, start(reduced)).cost == 0


def test_what_no_bar_is_left_for_stays_out() -> None:
    """One bar of 50 takes one of three pieces of 30; two stay out."""
    reduced = reduce_problem(problem({30: 3}, [BarKind(key="bar", length=Length(50), count=1)]))
    assert measure(reduced, start(reduced)).short * reduced.weight_unit == 60
