"""Timings and their table."""

from benchmarks.speed.timing import Timing, markdown


def test_the_median_is_told_with_the_extremes() -> None:
    """One slow repeat on a busy machine must be visible and must not decide."""
    timing = Timing(task="t", seconds=(3.0, 1.0, 2.0), peak_mib=7, all_mib=9, note="fine")
    assert timing.median == 2.0
    assert "| t | 2.000 | 1.000 | 3.000 | 3 | 7 | 9 | fine |" in markdown([timing])


def test_a_task_that_was_not_run_says_why() -> None:
    """An empty cell is not a fast one."""
    assert Timing(task="t").median is None
    assert "| t | - | - | - | 0 | - | - | not run: no command |" in markdown(
        [Timing(task="t", note="not run: no command")]
    )
