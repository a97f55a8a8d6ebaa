"""Rounds of regrouping over a plan in place."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.solver.fewer_patterns_improve import improve
from nesting.solver.fewer_patterns_ways import MOST_BINS, MOST_WAYS
from nesting.solver.kernel import Ints


def improved(
    patterns: list[list[int]], times: list[int], sizes: list[int], room: int, *, keep: int = 0, spare: int = 0
) -> tuple[Ints, Ints, int]:
    """Give the best patterns met, how often each is cut, and the scrap that may still be added."""
    p, m = len(patterns), len(sizes)
    held, cut, kinds = np.array(patterns), np.array(times), np.zeros(p, np.int64)
    best, best_times, best_kinds = held.copy(), cut.copy(), kinds.copy()
    mixed = int((held > 0).sum())
    record = np.array([p, mixed, mixed], np.int64)
    _, spare = improve(
        held,
        cut,
        kinds,
        p,
        np.array(sizes),
        np.array([room]),
        np.array([0]),
        1,
        99,
        99,
        1,
        np.array([[0, keep]]),
        spare,
        np.array([1000], np.int64),
        300,
        300,
        np.array([5], np.int64),
        best,
        best_times,
        best_kinds,
        record,
        np.zeros(m + 1, np.int64),
        np.zeros((MOST_WAYS, MOST_BINS), np.int64),
        np.zeros((MOST_BINS, m + 1, room // 64 + 1), np.uint64),
    )
    n = int(record[0])
    assert int((best[:n] > 0).sum()) == record[1]
    return best[:n], best_times[:n], int(spare)


def test_two_patterns_become_one() -> None:
    """6 + 6 + 4 and 4 + 4 + 4 are the same pieces as 6 + 4 + 4 twice; full bars, so no scrap either way."""
    best, times, _ = improved([[2, 1], [0, 3]], [1, 1], [6, 4], 16, keep=99, spare=6)
    assert (best.tolist(), times.tolist()) == ([[1, 2]], [2])


@pytest.mark.parametrize(("spare", "patterns"), [(5, 2), (6, 1)])
def test_scrap_is_added_only_as_far_as_it_may(spare: int, patterns: int) -> None:
    """Bar 20, keep 6: 7 + 7 and 7 + 7 + 3 + 3 scrap nothing, twice 7 + 7 + 3 scraps 3 + 3."""
    best, _, left = improved([[2, 0], [2, 2]], [1, 1], [7, 3], 20, keep=6, spare=spare)
    assert (len(best), left) == (patterns, spare if patterns == 2 else 0)


def test_an_empty_bar_is_a_pattern_less() -> None:
    """5 alone thrice and 4 alone thrice on bars of 10: 5 + 4 three times, and three bars are not opened."""
    best, times, _ = improved([[1, 0], [0, 1], [0, 1]], [3, 2, 1], [5, 4], 10, keep=1)
    assert (best.tolist(), times.tolist()) == ([[1, 1]], [3])


def test_a_single_pattern_is_left_alone() -> None:
    """There is nothing to combine it with."""
    best, times, _ = improved([[1, 2]], [4], [6, 4], 16)
    assert (best.tolist(), times.tolist()) == ([[1, 2]], [4])
