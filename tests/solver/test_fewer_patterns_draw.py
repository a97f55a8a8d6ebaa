"""Draws in whole numbers."""

from __future__ import annotations

from collections import Counter

import numpy as np

from nesting.solver.fewer_patterns_draw import below, draw_patterns


def test_the_sequence_is_the_published_one() -> None:
    """
    With x -> 48271 x mod (2**31 - 1), the 10 000th number from 1 on is 399268537.

    Park, Miller and Stockmeyer (1993, CACM 36(7):105-110); the value is from memory.
    """
    state = np.array([1], np.int64)
    for _ in range(10_000):
        below(state, 10)
    assert state[0] == 399268537


def test_every_number_is_drawn_about_equally_often() -> None:
    """Six thousand draws of a die: none of its numbers comes less than 900 times."""
    state = np.array([12345], np.int64)
    drawn = Counter(below(state, 6) for _ in range(6000))
    assert sorted(drawn) == list(range(6))
    assert min(drawn.values()) > 900


def test_patterns_are_drawn_once_and_by_kind() -> None:
    """Rows 0..3 of a plan, the unused fifth never; those of one kind of bar stand together."""
    patterns = np.array([[1, 0], [1, 1], [0, 2], [3, 0], [9, 9]], np.int64)
    kinds = np.array([1, 0, 1, 0, 0], np.int64)
    state = np.array([7], np.int64)
    held = np.zeros(2, np.int64)
    numbers: Counter[int] = Counter()
    for _ in range(400):
        rows = np.full(5, -1, np.int64)
        k = draw_patterns(patterns, kinds, 4, state, rows, held)
        chosen = rows[:k].tolist()
        assert len(set(chosen)) == k
        assert set(chosen) <= {0, 1, 2, 3}
        assert sorted(kinds[chosen]) == kinds[chosen].tolist()
        assert held.tolist() == patterns[chosen].sum(axis=0).tolist()
        numbers[k] += 1
    # 15 % of the rounds take two, 40 % three; the others, four or five, take all there are.
    assert set(numbers) == {2, 3, 4}
    assert numbers[2] < numbers[3] < numbers[4] + 40


def test_patterns_with_lengths_in_common_are_preferred() -> None:
    """Of one pattern with a common length and seven without, the first is drawn more often than 1 in 7."""
    patterns = np.array([[1, 0]] * 2 + [[0, 1]] * 7, np.int64)
    kinds = np.zeros(9, np.int64)
    state = np.array([99], np.int64)
    rows, held = np.zeros(5, np.int64), np.zeros(2, np.int64)
    begun = joined = 0
    for _ in range(3000):
        k = draw_patterns(patterns, kinds, 9, state, rows, held)
        pair = rows[:k].tolist()
        if k == 2 and (0 in pair or 1 in pair):
            begun += 1
            joined += {0, 1} == set(pair)
    # By chance alone a pair with 0 or 1 would be the pair 0, 1 once in 15 times.
    assert joined > begun // 4
