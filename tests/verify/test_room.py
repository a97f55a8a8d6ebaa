"""A bound by room is only as good as its check: every choice of bars must be thought of."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.bounds import cheapest_choice
from nesting.domain.problem import BarKind, Problem
from nesting.units import Length
from nesting.verify.pattern_worth import TooLarge, Work
from nesting.verify.room import has_room_below
from tests.solver.replay import problem

BARS = st.lists(
    st.tuples(st.integers(6, 20), st.integers(0, 9), st.one_of(st.none(), st.integers(0, 3))),
    min_size=1,
    max_size=4,
)


def shop(bars: Sequence[tuple[int, int, int | None]], pieces: dict[int, int]) -> Problem:
    """Give pieces to cut from bars of these lengths, costs and counts, without kerf or trims."""
    kinds = [
        BarKind(key=f"b{k}", length=Length(length), cost=cost, count=count)
        for k, (length, cost, count) in enumerate(bars)
    ]
    return problem(pieces, kinds)


@given(BARS, st.dictionaries(st.integers(2, 6), st.integers(1, 3), min_size=1, max_size=3))
def test_the_least_cost_with_room_is_what_trying_everything_finds(
    bars: list[tuple[int, int, int | None]], pieces: dict[int, int]
) -> None:
    """Search and check are two pieces of code; both must agree with no cleverness at all."""
    pieces = {**pieces, 1: 1}  # a piece of one unit, so that no room is lost to a common divisor
    size = sum(length * n for length, n in pieces.items())
    counts = [range(-(-size // length) + 1) if n is None else range(n + 1) for length, _, n in bars]
    costs = [
        sum(cost * n for (_, cost, _), n in zip(bars, chosen, strict=True))
        for chosen in product(*counts)
        if sum(length * n for (length, _, _), n in zip(bars, chosen, strict=True)) >= size
    ]
    found = cheapest_choice(bars, size)
    assert (None if found is None else found.cost) == min(costs, default=None)
    if costs:
        asked = shop(bars, pieces)
        assert has_room_below(asked, min(costs) + 1, Work(10_000))
        assert not has_room_below(asked, min(costs), Work(10_000))


def test_kerf_and_trims_take_room() -> None:
    """Two pieces of 50 and kerf 1 do not fit 104 with trims of 1 and 2: 102 are needed, 101 + 1 are there."""
    bar = BarKind(key="b", length=Length(104), head=Length(1), tail=Length(2), cost=5)
    asked = Problem(name="", lengths=(Length(50),), counts=(2,), bars=(bar,), kerf=Length(1))
    # 104 - 1 - 2 + 1 = 102 = 2 * 51
    assert not has_room_below(asked, 5, Work(100))
    assert has_room_below(asked, 6, Work(100))
    longer = Problem(name="", lengths=(Length(51),), counts=(2,), bars=(bar,), kerf=Length(1))
    assert not has_room_below(longer, 6, Work(100))
    assert not has_room_below(longer, 10, Work(100))
    assert has_room_below(longer, 11, Work(100))


def test_a_bar_too_short_for_any_piece_is_no_room() -> None:
    """A free offcut of 30 holds no piece of 40, so a second bar has to be bought for the third piece."""
    bars = [(100, 5, None), (30, 0, 1)]
    asked = Problem(
        lengths=(Length(43), Length(40)),
        counts=(1, 2),
        bars=tuple(
            BarKind(key=f"b{k}", length=Length(length), cost=cost, count=count)
            for k, (length, cost, count) in enumerate(bars)
        ),
    )
    assert not has_room_below(asked, 10, Work(100))
    assert has_room_below(asked, 11, Work(100))


def test_the_check_ends_where_its_work_does() -> None:
    """A certificate made to be hard must not hang an audit."""
    bars = [(1000 + 7 * k, 501 + 3 * k, None) for k in range(12)]
    with pytest.raises(TooLarge):
        has_room_below(shop(bars, {997: 900, 991: 1}), 437_000, Work(5))
