"""Closing searches: fixing by reduced costs, arcs and patterns against each other."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from nesting.domain.problem import Problem
from nesting.solver.arcs import all_arcs, places, thin_out
from nesting.solver.certify import certify
from nesting.solver.close import close_by_arcs, close_by_patterns
from nesting.solver.enumerate_patterns import enumerate_patterns
from nesting.solver.mip import Outcome
from nesting.solver.solve import solve
from tests.solver.bench import bench
from tests.solver.replay import best_by_trying, problem
from tests.solver.test_solve import tiny

NON_ROUND_UP = [
    # Fieldhouse: LP 2.2, optimum 3
    (30, {15: 1, 10: 2, 6: 4}, 3),
    # three times Fieldhouse and a bit: LP 4.9667, optimum 6
    (30, {15: 3, 10: 5, 6: 9}, 6),
    # Gau & Waescher: LP 2.2, optimum 3; and scaled
    (10000, {5000: 1, 3750: 1, 3250: 1, 3001: 1, 2000: 2}, 3),
    (60, {30: 1, 22: 1, 20: 1, 19: 1, 12: 2}, 3),
    # 13 items: LP 3, optimum 4, so 3 has to be shown impossible
    (160, {65: 2, 63: 1, 54: 1, 47: 1, 46: 1, 34: 3, 12: 1, 10: 1, 8: 1, 6: 1}, 4),
]
"""From the test data of the Dresden cutting and packing group; optima proved again by arc-flow."""


@pytest.mark.parametrize(("bar", "pieces", "optimum"), NON_ROUND_UP)
def test_bounds_that_do_not_round_up_to_the_optimum_are_closed(
    bar: int, pieces: dict[int, int], optimum: int
) -> None:
    """Where the linear bound falls short, the number below is shown impossible."""
    result = solve(problem(pieces, bar))
    assert (result.cost, result.bound) == (optimum, optimum)


def test_the_certificate_says_what_has_to_be_trusted() -> None:
    """Duals give 3 for the 13 items; 4 rests on a search, and the certificate names it."""
    bar, pieces, optimum = NON_ROUND_UP[-1]
    certificate = solve(problem(pieces, bar)).certificate
    assert certificate is not None
    assert (certificate.dual_bound, certificate.bound) == (3, optimum)
    assert "HiGHS" in certificate.closed_by


@settings(max_examples=25, deadline=None)
@given(tiny())
def test_arcs_and_patterns_both_find_the_least_cost(asked: Problem) -> None:
    """Whatever was fixed away, the optimum must still be there, or be shown not to be."""
    short, cost = best_by_trying(asked)
    if short or not cost:
        return
    for way in ("arcs", "patterns"):
        parts = bench(asked)
        if parts.search.worth.short:
            return
        unit = parts.reduced.cost_unit
        parts.master.solve(full=True)
        proof = certify(parts.reduced, parts.aim, parts.master.duals, parts.pricer)
        target = parts.search.worth.cost
        if way == "arcs":
            arcs = thin_out(parts.reduced, parts.aim, all_arcs(parts.reduced), proof, target, parts.engine)
            outcome = close_by_arcs(parts.search, arcs, target, max_nodes=1000, presolve=True)
        else:
            patterns = enumerate_patterns(
                parts.reduced, parts.aim, proof, target, parts.engine, max_patterns=500, max_nodes=10**5
            )
            assert patterns is not None
            outcome = close_by_patterns(parts.search, parts.aim, patterns, target, max_nodes=1000)
        assert outcome is Outcome.OPTIMAL
        assert parts.search.worth.cost * unit == cost


def test_no_arc_survives_a_target_below_the_bound() -> None:
    """There is nothing to search when the duals alone rule the target out."""
    parts = bench(problem({5: 7}, 10))
    parts.master.solve(full=True)
    proof = certify(parts.reduced, parts.aim, parts.master.duals, parts.pricer)
    arcs = thin_out(parts.reduced, parts.aim, all_arcs(parts.reduced), proof, 3, parts.engine)
    assert len(arcs) == 0
    assert places(arcs, parts.reduced.sizes) == []
