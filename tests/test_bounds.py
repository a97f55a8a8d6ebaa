"""Bounds from the sum of sizes."""

from __future__ import annotations

from fractions import Fraction

from nesting.bounds import Choice, cheapest_choice, cheapest_filling, volume_bound
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


def test_whole_bars_with_room_cost_more_than_their_metal() -> None:
    """280 come to 30.33 by the metre, but whole bars are 2 x 13 + 7; 3 x 13 would cost more, 5 x 7 too."""
    assert cheapest_choice([(120, 13, None), (60, 7, None)], 280) == Choice(33, (2, 1))


def test_of_choices_at_one_cost_the_most_room_is_taken() -> None:
    """The more room, the easier the pieces go in: 90 + 30 at 8 rather than 60 + 50 for a size of 110."""
    assert cheapest_choice([(60, 4, 1), (50, 4, 1), (90, 6, 1), (30, 2, 1)], 110) == Choice(8, (0, 0, 1, 1))


def test_too_few_bars_and_too_few_steps_prove_nothing() -> None:
    """No bound is better than one that was not proved to its end."""
    assert cheapest_choice([(60, 4, 1)], 110) is None
    assert cheapest_choice([(60, 4, 1), (50, 4, 1)], 110, max_steps=0) is None
