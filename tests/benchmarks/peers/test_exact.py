"""The three exact peers against trying everything, on cases small enough for that."""

import random

import pytest

from benchmarks import check
from benchmarks.peers.answer import Peer
from benchmarks.peers.assignment import cp_sat_assignment
from benchmarks.peers.highs import highs_arc_flow
from benchmarks.peers.scip import scip_arc_flow
from benchmarks.read import problem
from nesting.domain.problem import BarKind, Problem
from nesting.units import Length
from tests.benchmarks.brute_force import brute_force

EXACT = {"CP-SAT": cp_sat_assignment, "SCIP": scip_arc_flow, "HiGHS": highs_arc_flow}


def _random(seed: int) -> Problem:
    """Up to eight pieces on one or two kinds of bar, with kerf and trims."""
    draw = random.Random(seed)
    lengths = sorted(draw.sample(range(3, 16), 4), reverse=True)
    kinds = [(20 + draw.randint(0, 6), draw.randint(5, 9)), (14, 4)][: 1 + seed % 2]
    return Problem(
        lengths=tuple(Length(length) for length in lengths),
        counts=tuple(draw.randint(1, 2) for _ in lengths),
        bars=tuple(
            BarKind(key=str(k), length=Length(size), head=Length(1), tail=Length(1), cost=cost)
            for k, (size, cost) in enumerate(kinds)
        ),
        kerf=Length(seed % 3),
    )


@pytest.mark.parametrize("name", EXACT)
@pytest.mark.parametrize("seed", range(6))
def test_an_exact_peer_agrees_with_trying_everything(name: str, seed: int) -> None:
    """A peer that is wrong would make our own figures look good for nothing."""
    peer: Peer = EXACT[name]
    tiny = _random(seed)
    answer = peer(tiny, time_limit=20)
    assert answer.packing is not None
    assert check.faults(tiny, answer.packing) == ()
    assert not any(answer.packing.short)
    least = brute_force(tiny).cost
    assert (check.cost(tiny, answer.packing), answer.bound) == (least, least)


@pytest.mark.parametrize("name", EXACT)
def test_an_exact_peer_closes_a_gap_that_no_bound_sees(name: str) -> None:
    """
    Fieldhouse (1990): bars of 30, pieces 15, 10 twice, 6 four times; 59 of material, yet 3 bars.

    Read with the test data of the Dresden cutting and packing group.
    """
    peer: Peer = EXACT[name]
    answer = peer(problem("a", [15, 10, 6], [1, 2, 4], [(30, None, 1)]), time_limit=20)
    assert answer.packing is not None
    assert (sum(use.times for use in answer.packing.uses), answer.bound) == (3, 3)
