"""What is promised while a search runs, as the benchmark measures it."""

from __future__ import annotations

from benchmarks.anytime import promises
from benchmarks.anytime.promises import Trace
from benchmarks.cases.shop import shop_group
from nesting.domain.progress import Progress

GROUP = shop_group(12, 40)


def test_a_first_answer_is_timed_and_what_follows_is_watched() -> None:
    """Both promises come from one search."""
    first, improving = promises.first_answer(GROUP, seconds=5.0)
    assert first.seconds is not None
    assert first.seconds < 5.0  # the seconds themselves would stand here had nothing been told
    assert improving.kept


def test_a_step_back_is_counted() -> None:
    """A plan or a bound that gets worse again must not go unseen."""
    trace = Trace()
    for best, bound in ((10, 5), (9, 6), (10, 6), (9, 5)):
        trace.on_progress(Progress(best=best, bound=bound))
    assert trace.worse == 2


def test_a_limit_is_allowed_half_a_second_and_a_twentieth() -> None:
    """0.5 + 1.05 x 2 = 2.6 s."""
    assert promises.limit_kept(GROUP, seconds=2.0).allowed == 2.6


def test_a_search_that_was_over_says_nothing_about_cancels() -> None:
    """Only a cancel that came in time is a measurement."""
    assert promises.cancel_heard(GROUP, after=30.0) is None


def test_a_cancelled_batch_is_timed() -> None:
    """The batch is cancelled at once and still gives its audited plan."""
    finding = promises.batch_cancel_heard(materials=2, lengths=8, processes=1, after=0.0)
    assert finding is not None
    assert finding.seconds is not None


def test_plans_of_one_and_two_processes_are_compared() -> None:
    """Two materials in one process and in two."""
    assert promises.one_plan_a_seed(materials=2, lengths=6, processes=(1, 2)).kept
