"""Choosing a sample of a class."""

import pytest

from benchmarks.case import Case, evenly
from benchmarks.read import problem


def _cases(number: int) -> tuple[Case, ...]:
    tiny = problem("tiny", [5], [1], [(10, None, 1)])
    return tuple(Case(name=str(i), problem=tiny) for i in range(number))


def test_a_sample_is_spread_over_the_whole_class() -> None:
    """The easy cases come first in most files, so a head of the file would flatter."""
    assert [case.name for case in evenly(_cases(10), 4)] == ["0", "2", "5", "7"]


def test_a_class_smaller_than_the_sample_is_taken_whole() -> None:
    """A sample never repeats a case."""
    assert len(evenly(_cases(3), 5)) == 3
    assert len(evenly(_cases(3), None)) == 3


def test_a_sample_of_none_is_refused() -> None:
    """An empty run must not look like a run without failures."""
    with pytest.raises(ValueError, match="at least one"):
        evenly(_cases(3), 0)
