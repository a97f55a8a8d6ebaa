"""Sizes and packings that peers share."""

from collections import Counter

import pytest

from benchmarks.peers.answer import packing_of, sizes
from benchmarks.read import problem
from nesting.domain.packing import PatternUse
from nesting.domain.problem import BarKind, Problem
from nesting.units import Length


def test_kerf_goes_into_sizes_and_capacity() -> None:
    """Sizes a + k = 50 and 40, L - h - e + k = 100 - 5 - 5 + 4 = 94; in tens 5, 4 and 9 (94 rounded down)."""
    saw = Problem(
        lengths=(Length(46), Length(36)),
        counts=(1, 1),
        bars=(BarKind(key="a", length=Length(100), head=Length(5), tail=Length(5)),),
        kerf=Length(4),
    )
    assert (sizes(saw).pieces, sizes(saw).capacities) == ((5, 4), (9,))


def test_limited_bars_are_refused() -> None:
    """A peer that ignored a supply would look better than it is."""
    with pytest.raises(ValueError, match="unlimited"):
        sizes(problem("a", [5], [1], [(10, 3, 1)]))


def test_pieces_in_excess_are_taken_out_and_equal_bars_joined() -> None:
    """Covering models may make more than is wanted; the plan must hold exactly what is."""
    two = problem("a", [5, 3], [3, 1], [(10, None, 1)])
    packing = packing_of(two, [(0, Counter({0: 2})), (0, Counter({0: 2})), (0, Counter({0: 1, 1: 1}))])
    assert packing.short == (0, 0)
    # Of 2 + 2 + 1 pieces of 5 the last two bars keep 1 and 0.
    assert packing.uses == (
        PatternUse(0, ((0, 1),), 1),
        PatternUse(0, ((0, 2),), 1),
        PatternUse(0, ((1, 1),), 1),
    )
