"""Back from the reduced group to the caller's bars."""

from __future__ import annotations

import pytest

from nesting.domain.packing import PatternUse
from nesting.domain.problem import BarKind
from nesting.solver.answer import to_packing
from nesting.solver.columns import Pattern
from nesting.solver.reduce import reduce_problem
from nesting.units import Length
from tests.solver.replay import problem


def test_surplus_pieces_are_taken_off() -> None:
    """Two bars of three make six; five are asked for."""
    asked = problem({30: 5}, 100)
    packing = to_packing(asked, reduce_problem(asked), ((Pattern(0, ((0, 3),)), 2),))
    assert packing.uses == (PatternUse(0, ((0, 2),), 1), PatternUse(0, ((0, 3),), 1))
    assert packing.short == (0,)


def test_merged_kinds_are_shared_out_by_count() -> None:
    """Two offcuts of one capacity: each is used once, by its own key."""
    bars = [BarKind(key=key, length=Length(50), cost=0, count=1) for key in "ab"]
    asked = problem({45: 3}, [*bars, BarKind(key="new", length=Length(100))])
    reduced = reduce_problem(asked)
    packing = to_packing(asked, reduced, ((Pattern(1, ((0, 1),)), 2),))
    assert [use.bar for use in packing.uses] == [0, 1]
    assert packing.short == (1,)


def test_more_bars_than_at_hand_is_refused() -> None:
    """A slip of the search must not reach the saw."""
    asked = problem({45: 3}, [BarKind(key="a", length=Length(50), count=1)])
    with pytest.raises(ValueError, match="at hand"):
        to_packing(asked, reduce_problem(asked), ((Pattern(0, ((0, 1),)), 2),))
