"""Readers of the published second-goal instances."""

from pathlib import Path

import pytest

from benchmarks.check import faults
from benchmarks.second_goals.read import pattern_case, pattern_cases, stacks_case, stacks_cases
from tests.benchmarks.second_goals.records import PATTERNS, STACKS


def test_the_plan_given_is_read_in_our_order_of_lengths() -> None:
    """A slip of indices would give a plan that cannot be sawn; ours has 6, 5, 4."""
    case = pattern_case(PATTERNS)
    assert case.problem.lengths == (6, 5, 4)
    assert faults(case.problem, case.start) == ()
    assert [use.pieces for use in case.start.uses] == [((0, 1), (2, 1)), ((1, 2),), ((0, 1), (2, 1))]
    assert (case.bars, case.best_known) == (3, 2)
    assert (case.limits.most_pieces, case.limits.most_lengths, case.limits.least_fill) == (3, 2, 9)


def test_customers_of_each_product() -> None:
    """The file lists products of each customer; bars want it the other way round."""
    assert stacks_case(STACKS).bars == (("000", "001"), ("002",), ("001", "002"))


def test_a_missing_file_is_an_error(tmp_path: Path) -> None:
    """An empty folder must not pass as an empty class."""
    with pytest.raises(FileNotFoundError):
        pattern_cases(tmp_path)
    with pytest.raises(FileNotFoundError):
        stacks_cases(tmp_path)
