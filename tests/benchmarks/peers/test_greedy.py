"""First-fit and best-fit decreasing."""

from benchmarks import check
from benchmarks.peers.greedy import best_fit, first_fit
from benchmarks.read import problem
from nesting.domain.packing import Packing
from nesting.domain.problem import BarKind, Problem
from nesting.units import mm


def _bars(packing: Packing | None) -> int:
    return sum(use.times for use in packing.uses) if packing else 0


def test_both_rules_need_a_bar_too_many_on_the_known_example() -> None:
    """
    938 + 598 + 412 and 830 + 598 + 412 need two 2 m bars; both rules put 938 and 830 together.

    938 + 3 + 830 = 1 771 of 1 984 usable, then 598, 598 and 412 + 412 no longer fit two bars.
    """
    example = Problem(
        lengths=(mm(938), mm(830), mm(598), mm(412)),
        counts=(1, 1, 2, 2),
        bars=(BarKind(key="2 m", length=mm(2000), head=mm(8), tail=mm(8)),),
        kerf=mm(3),
    )
    for rule in (first_fit, best_fit):
        packing = rule(example, time_limit=1).packing
        assert packing is not None
        assert check.faults(example, packing) == ()
        assert _bars(packing) == 3


def test_best_fit_takes_the_fullest_bar_that_still_fits() -> None:
    """
    Bars of 10, pieces 7, 6, 4, 3: first fit and best fit both need 2, and best fit puts 3 beside 7.

    With 7, 6, 3, 2, 2 the 3 goes beside 7 (room 0) in both; rooms are then 0 and 4 for the two 2s.
    """
    packing = best_fit(problem("a", [7, 6, 3, 2], [1, 1, 1, 2], [(10, None, 1)]), time_limit=1).packing
    assert packing is not None
    assert sorted(use.pieces for use in packing.uses) == [((0, 1), (2, 1)), ((1, 1), (3, 2))]


def test_contents_move_to_the_cheapest_bar_that_holds_them() -> None:
    """One piece of 4 needs no bar of 10: on the 5 it costs 3, and 10 + 3 beats twice 10."""
    mixed = problem("a", [6, 4], [1, 2], [(10, None, 10), (5, None, 3)])
    packing = first_fit(mixed, time_limit=1).packing
    assert packing is not None
    assert check.cost(mixed, packing) == 13
