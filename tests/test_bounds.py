"""Bounds from the sum of sizes."""

from __future__ import annotations

from fractions import Fraction

from nesting.bounds import cheapest_filling, volume_bound
from nesting.domain.problem import BarKind, Problem
from nesting.units import Length


def test_filling_takes_the_cheapest_metal_first() -> None:
    """5 at 1/5 each from the limited kind, then 7 at 3/10 from the other."""
    filling = cheapest_filling([(10, 3, None), (5, 1, 1)], 12)
    assert filling.cost == 1 + Fraction(21, 10)
    assert filling.price == Fraction(3, 10)
    assert filling.lacking == 0


def test_filling_says_what_is_lacking() -> None:
    """Limited bars give 2 x 5; 3 of 13 are not to be had."""
    assert cheapest_filling([(5, 1, 2)], 13).lacking == 3


def test_volume_bound_counts_kerfs_and_rounds_to_the_cost_unit() -> None:
    """4 pieces need 4 x (30 + 2) = 128, a bar gives 98 + 2 = 100: 1.28 bars at 6, rounded up to 12."""
    bars = (BarKind(key="bar", length=Length(100), head=Length(1), tail=Length(1), cost=6),)
    asked = Problem(lengths=(Length(30),), counts=(4,), bars=bars, kerf=Length(2))
    assert volume_bound(asked) == 12
