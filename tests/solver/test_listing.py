"""The list of patterns that a better plan could still use, and the loops that read it."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.solver import kernel_listing
from nesting.solver.arcs import all_arcs, thin_out
from nesting.solver.certify import Proof, certify
from nesting.solver.listing import Listing, list_by_arcs
from tests.solver.bench import Bench, bench
from tests.solver.replay import problem

LISTED = Listing(
    np.array([0, 2, 3, 5], np.int64),
    np.array([0, 1, 0, 1, 2], np.int32),
    np.array([1, 1, 2, 1, 1], np.int32),
)
"""Three patterns over three lengths: 0 with 1; 0 twice; 1 with 2."""


def _proved(parts: Bench) -> Proof:
    parts.master.solve(full=True)
    return certify(parts.reduced, parts.aim, parts.master.duals, parts.pricer)


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.integers(2, 12), st.integers(1, 3), min_size=1, max_size=4),
    st.integers(0, 1),
)
def test_lists_every_pattern_that_the_duals_leave_and_no_other(pieces: dict[int, int], more: int) -> None:
    """A pattern that were missed could be the one a better plan needs."""
    parts = bench(problem(pieces, 14))
    reduced, proof = parts.reduced, _proved(parts)
    target = proof.bound + more
    arcs = thin_out(reduced, parts.aim, all_arcs(reduced), proof, target, parts.engine)
    listing = list_by_arcs(reduced, arcs, proof, target, parts.engine, max_patterns=5000, max_nodes=10**6)
    assert listing is not None
    slack = target * proof.scale - proof.total
    capacity = reduced.kinds[0].capacity
    expected = set()
    for counts in product(*(range(n + 1) for n in reduced.demands)):
        size = sum(s * n for s, n in zip(reduced.sizes, counts, strict=True))
        worth = sum(p * n for p, n in zip(proof.pieces, counts, strict=True))
        if size <= capacity and worth >= proof.scale - slack:
            expected.add(tuple((i, n) for i, n in enumerate(counts) if n))
    found = [listing.pattern(number).pieces for number in range(len(listing))]
    assert len(found) == len(set(found))
    assert set(found) == expected


def test_says_when_there_are_too_many() -> None:
    """A list cut short would make a false proof."""
    parts = bench(problem({5: 2, 4: 2, 3: 2}, 14))
    proof = _proved(parts)
    few = list_by_arcs(
        parts.reduced, all_arcs(parts.reduced), proof, 9, parts.engine, max_patterns=3, max_nodes=10**6
    )
    hasty = list_by_arcs(
        parts.reduced, all_arcs(parts.reduced), proof, 9, parts.engine, max_patterns=999, max_nodes=3
    )
    assert few is None
    assert hasty is None


def test_prices_the_dearest_living_pattern_through_each_length() -> None:
    """At 0.5, 0.6, 0.7 the patterns are worth 1.1, 1.0, 1.3; the last dead, length 2 has none."""
    duals = np.array([0.5, 0.6, 0.7])
    best, which = np.empty(3), np.empty(3, np.int64)
    dead = np.zeros(3, np.int32)
    arrays = (LISTED.starts, LISTED.rows, LISTED.entries)
    assert kernel_listing.price_listing(*arrays, dead, duals, 1.0, best, which) == pytest.approx(1.3)
    assert which.tolist() == [0, 2, 2]
    dead[2] = 1
    assert kernel_listing.price_listing(*arrays, dead, duals, 1.0, best, which) == pytest.approx(1.1)
    assert which.tolist() == [0, 0, -1]
    assert kernel_listing.dearest_listed(*arrays, dead, np.array([5, 6, 7])) == 11
    dead[:] = 1
    assert kernel_listing.dearest_listed(*arrays, dead, np.array([5, 6, 7])) == 0


@pytest.mark.parametrize(
    ("both", "lone", "killed"),
    [(True, False, [4, 0, 0]), (False, False, [0, 4, 0]), (False, True, [0, 4, 4])],
)
def test_a_decision_on_a_pair_kills_what_it_rules_out(both: bool, lone: bool, killed: list[int]) -> None:
    """Lengths 0 and 1: apart, together, and together when there is but one piece of either."""
    dead = np.zeros(3, np.int32)
    kernel_listing.kill_pair(LISTED.starts, LISTED.rows, LISTED.entries, dead, 4, 0, 1, both, lone)
    assert dead.tolist() == killed


def test_patterns_that_hold_more_than_is_open_are_killed() -> None:
    """Of length 0 one piece is open: the pattern with two of it is out; older stamps stay."""
    dead = np.array([3, 0, 0], np.int32)
    open_ = np.array([1, 1, 1])
    kernel_listing.kill_beyond(LISTED.starts, LISTED.rows, LISTED.entries, dead, 4, open_)
    assert dead.tolist() == [3, 4, 0]
