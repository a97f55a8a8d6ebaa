"""The linear programme over listed patterns: it follows what is open and what is out."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.solver.listed_programme import ABSENT_COST, ListedProgramme
from nesting.solver.listing import Listing

PAIRS = Listing(
    np.array([0, 2, 4, 6], np.int64),
    np.array([0, 1, 0, 2, 1, 2], np.int32),
    np.ones(6, np.int32),
)
"""Three lengths, two on a bar: every pair."""


def test_half_of_each_pair_is_least() -> None:
    """One piece of each length: three halves, the text-book case; each length is worth one half."""
    programme = ListedProgramme(PAIRS, 3)
    programme.add([0, 1, 2])
    programme.move_to(np.array([1, 1, 1]), np.zeros(3, np.int32))
    assert programme.solve() == pytest.approx(1.5)
    assert programme.levels == pytest.approx([0.5, 0.5, 0.5])
    assert programme.duals == pytest.approx([0.5, 0.5, 0.5])


def test_what_is_out_or_not_taken_leaves_pieces_absent() -> None:
    """Only pair 0-1 lives: one bar, and length 2 counts for what is absent."""
    programme = ListedProgramme(PAIRS, 3)
    programme.add([0, 1, 0])
    assert programme.columns == [0, 1]
    programme.move_to(np.array([1, 1, 1]), np.array([0, 1, 0], np.int32))
    assert programme.solve() == pytest.approx(1 + ABSENT_COST)
    assert programme.absent == pytest.approx([0, 0, 1])
    programme.move_to(np.array([1, 0, 1]), np.array([1, 0, 0], np.int32))
    assert programme.solve() == pytest.approx(1.0)
