"""The reduced group means the same as the problem."""

from __future__ import annotations

from nesting.domain.problem import BarKind
from nesting.solver.reduce import Kind, reduce_problem, undominated
from nesting.units import Length
from tests.solver.replay import problem


def test_kerf_is_folded_in_and_sizes_share_no_divisor() -> None:
    """Sizes 30 + 2 and 14 + 2 are 2 and 1 sixteens; a bar gives 100 - 3 - 1 + 2 = 98, six of them."""
    bars = [BarKind(key="bar", length=Length(100), head=Length(3), tail=Length(1), cost=14)]
    reduced = reduce_problem(problem({30: 1, 14: 2}, bars, kerf=2))
    assert (reduced.sizes, reduced.demands) == ((2, 1), (1, 2))
    assert reduced.kinds == (Kind(6, 1, None, (0,)),)
    assert (reduced.cost_unit, reduced.weight_unit, reduced.weights) == (14, 2, (15, 7))


def test_alike_bars_are_merged_with_their_counts() -> None:
    """Two offcuts that hold the same are one kind of two bars."""
    bars = [
        BarKind(key="a", length=Length(50), cost=0, count=1),
        BarKind(key="b", length=Length(52), tail=Length(2), cost=0, count=1),
        BarKind(key="new", length=Length(100)),
    ]
    reduced = reduce_problem(problem({30: 9}, bars))
    assert [(k.supply, k.sources) for k in reduced.kinds] == [(None, (2,)), (2, (0, 1))]


def test_more_bars_than_pieces_are_as_good_as_unlimited() -> None:
    """Every opened bar holds a piece, so 4 bars for 4 pieces bind nothing."""
    reduced = reduce_problem(problem({30: 4}, [BarKind(key="bar", length=Length(50), count=4)]))
    assert reduced.kinds[0].supply is None


def test_fewer_bars_than_pieces_stay_limited() -> None:
    """Three bars for four pieces may not do."""
    reduced = reduce_problem(problem({30: 4}, [BarKind(key="bar", length=Length(50), count=3)]))
    assert reduced.kinds[0].supply == 3


def test_bars_that_hold_nothing_or_are_gone_are_left_out() -> None:
    """A bar shorter than every piece and one that is out of stock cannot be used."""
    bars = [
        BarKind(key="bar", length=Length(50)),
        BarKind(key="stub", length=Length(20)),
        BarKind(key="gone", length=Length(60), count=0),
    ]
    assert len(reduce_problem(problem({30: 4}, bars)).kinds) == 1


def test_only_unlimited_kinds_drive_others_out() -> None:
    """A shorter and dearer kind is never needed beside an unlimited better one; a limited one runs out."""
    better, limited, worse = Kind(10, 5, None, (0,)), Kind(12, 4, 3, (1,)), Kind(9, 5, None, (2,))
    assert undominated([worse, limited, better]) == [limited, better]
    assert undominated([worse, limited]) == [limited, worse]
