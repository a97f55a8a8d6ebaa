"""Bounds that the compared models start from."""

from fractions import Fraction

from benchmarks.peers.bounds import bars_bound, cost_bound, material_bound, rounded_up
from benchmarks.read import problem


def test_material_bound_takes_the_best_price_a_length() -> None:
    """20 of material; 7 for 10 is dearer than 13 for 20, so 13, and costs are multiples of 1."""
    assert material_bound(problem("a", [5], [4], [(10, None, 7), (20, None, 13)])) == 13


def test_l2_counts_pieces_that_share_no_bar() -> None:
    """Pieces of 7, 6, 6, 6, 6 on bars of 10: 31 of material fit 4 bars, but no two pieces share one."""
    five = problem("a", [7, 6], [1, 4], [(10, None, 1)])
    assert (material_bound(five), bars_bound(five)) == (4, 5)


def test_l2_sees_small_pieces_that_do_not_fit_beside_large_ones() -> None:
    """
    Three 7s and three 4s on bars of 10: 33 of material needs 4 bars, L2 with K = 4 needs 5.

    No 4 fits beside a 7, so the 4s need 12 / 10, rounded up 2, beside the 3 bars of the 7s.
    """
    assert bars_bound(problem("a", [7, 4], [3, 3], [(10, None, 1)])) == 5


def test_the_better_bound_counts() -> None:
    """Each bound alone can be the weaker one."""
    assert cost_bound(problem("a", [6], [5], [(10, None, 3)])) == 15
    assert cost_bound(problem("a", [5], [7], [(10, None, 3)])) == 12  # 3.5 bars, 4 by material


def test_bounds_round_up_to_the_next_cost_there_is() -> None:
    """Costs of 6 and 4 come in steps of 2; a float just above a step is still that step."""
    step_of_two = problem("a", [5], [1], [(10, None, 6), (8, None, 4)])
    assert rounded_up(step_of_two, Fraction(7)) == 8
    assert rounded_up(step_of_two, 8.0000001) == 8
    assert rounded_up(step_of_two, 8.1) == 10
