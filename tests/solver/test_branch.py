"""Branch and bound over listed patterns: nothing may be lost, nothing proved that is not so."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.progress import Progress, StopReason
from nesting.solver.arcs import all_arcs, thin_out
from nesting.solver.branch import Branching
from nesting.solver.certify import certify
from nesting.solver.listing import list_by_arcs
from nesting.solver.mip import Outcome
from nesting.solver.params import CloseParams, RoundParams, SolverParams
from nesting.solver.search import Stopped
from nesting.solver.solve import solve
from tests.solver.bench import Bench, bench
from tests.solver.replay import best_by_trying, problem
from tests.solver.test_close import NON_ROUND_UP


def _branching(parts: Bench, target: int) -> Branching:
    parts.master.solve(full=True)
    proof = certify(parts.reduced, parts.aim, parts.master.duals, parts.pricer)
    arcs = thin_out(parts.reduced, parts.aim, all_arcs(parts.reduced), proof, target, parts.engine)
    listing = list_by_arcs(
        parts.reduced, arcs, proof, target, parts.engine, max_patterns=50_000, max_nodes=10**6
    )
    assert listing is not None
    return Branching(parts.search, listing, target, parts.engine)


@settings(max_examples=40, deadline=None)
@given(st.dictionaries(st.integers(2, 12), st.integers(1, 3), min_size=1, max_size=4), st.integers(12, 15))
def test_finds_the_least_and_shows_one_less_impossible(pieces: dict[int, int], bar: int) -> None:
    """Checked against trying everything."""
    asked = problem(pieces, bar)
    _, least = best_by_trying(asked)
    parts = bench(asked)
    parts.search.plan, parts.search.worth = (), type(parts.search.worth)(1, 0)
    assert _branching(parts, least).run(1000) is Outcome.FOUND
    assert (parts.search.worth.short, parts.search.worth.cost) == (0, least)
    assert _branching(bench(asked), least - 1).run(1000) is Outcome.IMPOSSIBLE


@pytest.mark.parametrize(("bar", "pieces", "optimum"), NON_ROUND_UP)
def test_shows_impossible_what_the_linear_programme_allows(
    bar: int, pieces: dict[int, int], optimum: int
) -> None:
    """The bound alone is one too low in each of them."""
    assert _branching(bench(problem(pieces, bar)), optimum - 1).run(1000) is Outcome.IMPOSSIBLE


def test_leaves_open_what_its_nodes_do_not_settle() -> None:
    """Thirteen pieces on three bars of 160 need more than the first node: no node, no answer."""
    bar, pieces, optimum = NON_ROUND_UP[-1]
    branching = _branching(bench(problem(pieces, bar)), optimum - 1)
    assert branching.run(0) is Outcome.OPEN


def test_a_stop_is_heard() -> None:
    """The stop criterion is asked at every linear programme."""
    bar, pieces, optimum = NON_ROUND_UP[-1]

    def stop(now: Progress) -> StopReason | None:
        return StopReason.CANCELLED if armed else None

    armed = False
    branching = _branching(bench(problem(pieces, bar), stop=stop), optimum - 1)
    armed = True
    with pytest.raises(Stopped):
        branching.run(1000)


def test_the_certificate_names_the_branching() -> None:
    """Where full patterns are not tried first, branching closes the 13 items, and the certificate says so."""
    bar, pieces, optimum = NON_ROUND_UP[-1]
    params = SolverParams(rounding=RoundParams(solves=5), closing=CloseParams(max_patterns=1))
    result = solve(problem(pieces, bar), params=params)
    assert (result.cost, result.bound) == (optimum, optimum)
    assert result.certificate is not None
    assert "branch and bound over" in result.certificate.closed_by


def test_few_nodes_over_arcs_settle_what_the_first_branches_do_not() -> None:
    """Where no plan exists, branching alone took 15 s on 160 pieces; cuts over the arcs, one."""
    bar, pieces, optimum = NON_ROUND_UP[-1]
    closing = CloseParams(max_patterns=1, first_nodes=1, root_nodes=50)
    result = solve(problem(pieces, bar), params=SolverParams(rounding=RoundParams(solves=5), closing=closing))
    assert (result.cost, result.bound) == (optimum, optimum)
    assert result.certificate is not None
    assert "integer programme over" in result.certificate.closed_by
    assert dict(result.report.counters)["nodes"] == 1
