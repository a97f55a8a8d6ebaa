"""Fewer patterns at no more cost."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.check import faults
from nesting.domain.packing import Packing, PatternUse, cost_of, total_scrap
from nesting.domain.problem import BarKind, Problem
from nesting.solver.fewer_patterns import (
    PatternLimits,
    fewer_patterns,
    least_patterns,
    pattern_count,
)
from nesting.solver.solve import solve
from nesting.stop import MaxRounds
from nesting.units import Length
from tests.solver.replay import problem


def opened(packing: Packing) -> Counter[int]:
    """Count the bars of each kind."""
    bars: Counter[int] = Counter()
    for use in packing.uses:
        bars[use.bar] += use.times
    return bars


@st.composite
def plans(draw: st.DrawFn) -> tuple[Problem, Packing]:
    """Give any plan of random bars with kerf, trims and keep length; its problem asks for what it cuts."""
    kerf = draw(st.integers(0, 3))
    bars = [
        BarKind(
            key=f"bar {number}",
            length=Length(draw(st.integers(40, 90))),
            head=Length(draw(st.integers(0, 3))),
            tail=Length(draw(st.integers(0, 3))),
            cost=draw(st.integers(1, 5)),
        )
        for number in range(draw(st.integers(1, 2)))
    ]
    lengths = sorted(draw(st.sets(st.integers(5, 30), min_size=2, max_size=6)), reverse=True)
    uses = []
    for _ in range(draw(st.integers(1, 8))):
        b = draw(st.integers(0, len(bars) - 1))
        room = bars[b].usable + kerf
        cut: Counter[int] = Counter()
        for i in draw(st.lists(st.integers(0, len(lengths) - 1), min_size=1, max_size=6)):
            if lengths[i] + kerf <= room:
                cut[i] += 1
                room -= lengths[i] + kerf
        if cut:
            uses.append(PatternUse(b, tuple(sorted(cut.items())), draw(st.integers(1, 6))))
    counts: Counter[int] = Counter()
    for use in uses:
        for i, n in use.pieces:
            counts[i] += n * use.times
    kept = [i for i in range(len(lengths)) if counts[i]]
    place = {i: number for number, i in enumerate(kept)}
    asked = Problem(
        lengths=tuple(Length(lengths[i]) for i in kept),
        counts=tuple(counts[i] for i in kept),
        bars=tuple(bars),
        kerf=Length(kerf),
        keep_length=Length(draw(st.integers(0, 40))),
    )
    moved = tuple(PatternUse(use.bar, tuple((place[i], n) for i, n in use.pieces), use.times) for use in uses)
    return asked, Packing(moved, (0,) * len(kept))


@settings(max_examples=40, deadline=None)
@given(plans())
def test_nothing_but_the_patterns_changes(plan: tuple[Problem, Packing]) -> None:
    """Every piece is still cut, no kind of bar is opened more often, no more scrap, no more patterns."""
    asked, packing = plan
    fewer = fewer_patterns(asked, packing, rounds=2, seed=3)
    assert faults(asked, fewer) == ()
    assert opened(fewer) <= opened(packing)
    assert cost_of(asked, fewer) <= cost_of(asked, packing)
    assert total_scrap(asked, fewer) <= total_scrap(asked, packing)
    assert least_patterns(asked, fewer) <= pattern_count(fewer) <= pattern_count(packing)


def test_two_patterns_are_combined_to_one() -> None:
    """6 + 6 + 4 once and 4 + 4 + 4 once are the same pieces as 6 + 4 + 4 twice."""
    asked = problem({6: 2, 4: 4}, 16)
    scattered = Packing((PatternUse(0, ((0, 2), (1, 1)), 1), PatternUse(0, ((1, 3),), 1)), (0, 0))
    assert fewer_patterns(asked, scattered).uses == (PatternUse(0, ((0, 1), (1, 2)), 2),)


def test_bars_that_become_empty_are_not_opened() -> None:
    """Six half-filled bars in three patterns need three bars; empty ones must not be regrouped again."""
    asked = problem({5: 3, 4: 3}, 10)
    wasteful = Packing(
        (PatternUse(0, ((0, 1),), 3), PatternUse(0, ((1, 1),), 2), PatternUse(0, ((1, 1),), 1)), (0, 0)
    )
    fewer = fewer_patterns(asked, wasteful)
    assert faults(asked, fewer) == ()
    assert pattern_count(fewer) == 1
    assert cost_of(asked, fewer) == 3


def test_lengths_without_a_common_unit_are_combined_too() -> None:
    """In nanometres 600.000007, 400.000009 and a bar of 1600.0001 mm have nothing to be divided by."""
    asked = problem({600_000_007: 2, 400_000_009: 4}, 1_600_000_100)
    scattered = Packing((PatternUse(0, ((0, 2), (1, 1)), 1), PatternUse(0, ((1, 3),), 1)), (0, 0))
    assert fewer_patterns(asked, scattered).uses == (PatternUse(0, ((0, 1), (1, 2)), 2),)


def test_scrap_is_not_paid_with_unless_told_so() -> None:
    """
    Bar 20, keep 6: 7 + 7 (tail 6, kept) and 7 + 7 + 3 + 3 (tail 0) scrap nothing.

    Twice 7 + 7 + 3 is one pattern, but its tails of 3 are scrap, 6 in all.
    """
    asked = problem({7: 4, 3: 2}, 20, keep_length=6)
    two = Packing((PatternUse(0, ((0, 2),), 1), PatternUse(0, ((0, 2), (1, 2)), 1)), (0, 0))
    assert fewer_patterns(asked, two) == two
    assert fewer_patterns(asked, two, more_scrap=5) == two
    one = fewer_patterns(asked, two, more_scrap=6)
    assert one.uses == (PatternUse(0, ((0, 2), (1, 1)), 2),)
    assert cost_of(asked, two) == cost_of(asked, one) == 2
    assert least_patterns(asked, one) == pattern_count(one) == 1


@pytest.mark.parametrize(
    ("limits", "patterns"),
    [
        (PatternLimits(), 1),
        (PatternLimits(most_lengths=1), 2),
        (PatternLimits(most_pieces=2), 2),
        (PatternLimits(least_fill=Length(11)), 2),
    ],
)
def test_limits_hold_for_new_patterns(limits: PatternLimits, patterns: int) -> None:
    """6 + 6 and 2 + 2 on bars of 12 could be 6 + 2 twice: two lengths, two pieces, filling 8."""
    asked = problem({6: 2, 1: 4}, 12)
    two = Packing((PatternUse(0, ((0, 2),), 1), PatternUse(0, ((1, 4),), 1)), (0, 0))
    assert pattern_count(fewer_patterns(asked, two, limits=limits)) == patterns


def test_pieces_left_out_stay_left_out() -> None:
    """What the stock cannot give is no matter of patterns."""
    asked = problem({6: 5}, [BarKind(key="bar", length=Length(12), count=2)])
    packing = Packing((PatternUse(0, ((0, 2),), 1), PatternUse(0, ((0, 2),), 1)), (1,))
    merged = fewer_patterns(asked, packing)
    assert merged == Packing((PatternUse(0, ((0, 2),), 2),), (1,))


def test_nothing_to_do_is_answered_at_once() -> None:
    """An empty plan has no pattern, and needs none."""
    asked = problem({6: 1}, 12)
    empty = Packing((), (1,))
    assert fewer_patterns(asked, empty) == empty
    assert (pattern_count(empty), least_patterns(asked, empty)) == (0, 0)


def test_the_paper_roll_example_needs_ten_patterns() -> None:
    """
    73 rolls of 5600 mm; ten patterns are known to be enough and nine not.

    Encyclopaedia article "Cutting stock problem", paper machine example.
    """
    rolls = {
        1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
        2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
    }  # fmt: skip
    asked = problem(rolls, 5600)
    result = solve(asked)
    fewer = fewer_patterns(asked, result.best, seed=1)
    assert faults(asked, fewer) == ()
    assert (result.cost, cost_of(asked, fewer), pattern_count(fewer)) == (73, 73, 10)


def test_one_seed_gives_one_answer_and_a_stop_ends_it() -> None:
    """The same plan on paper twice, and a search that can be cut short."""
    asked = problem({45: 20, 36: 25, 31: 30, 14: 21}, 100)
    start = solve(asked).best
    assert fewer_patterns(asked, start, seed=5, rounds=2) == fewer_patterns(asked, start, seed=5, rounds=2)
    stopped = fewer_patterns(asked, start, seed=5, rounds=50, stop=MaxRounds(2))
    assert stopped == fewer_patterns(asked, start, seed=5, rounds=2)
