"""Stop criteria: each says why, from the snapshot alone."""

from __future__ import annotations

import threading

import pytest

from nesting.domain.progress import Progress, StopReason
from nesting.errors import ProblemError
from nesting.stop import NEVER, AnyOf, Cancelled, CostReached, MaxRounds, MaxRuntime


def test_never_lets_every_search_go_on() -> None:
    """Without a criterion only a proof ends a search."""
    assert NEVER(Progress(elapsed=1e9, rounds=10**9)) is None


def test_max_runtime_ends_at_its_limit_and_can_be_reused() -> None:
    """A criterion that kept its own clock would stop the second group at once."""
    stop = MaxRuntime(2.0)
    assert stop(Progress(elapsed=1.9)) is None
    assert stop(Progress(elapsed=2.0)) is StopReason.TIME
    assert stop(Progress(elapsed=0.0)) is None


def test_max_rounds_counts_rounds_not_seconds() -> None:
    """The same limit gives the same plan on every machine."""
    assert MaxRounds(5)(Progress(rounds=4, elapsed=1e9)) is None
    assert MaxRounds(5)(Progress(rounds=5)) is StopReason.EXHAUSTED


def test_cost_reached_waits_for_every_piece_and_gives_up_in_time() -> None:
    """A plan that leaves pieces out is not the one looked for; a bound above the cost ends the rest."""
    stop = CostReached(100)
    assert stop(Progress(best=101, bound=100)) is None
    assert stop(Progress(best=100, short=1)) is None
    assert stop(Progress(best=100)) is StopReason.EXHAUSTED
    assert stop(Progress(best=105, bound=101)) is StopReason.EXHAUSTED


def test_cancelled_watches_a_flag_from_outside() -> None:
    """A service cancels through anything that has is_set()."""
    flag = threading.Event()
    stop = Cancelled(flag)
    assert stop(Progress()) is None
    flag.set()
    assert stop(Progress()) is StopReason.CANCELLED


def test_any_of_gives_the_first_reason() -> None:
    """The order of the criteria decides what the user is told."""
    stop = AnyOf(MaxRounds(1), MaxRuntime(1.0))
    assert stop(Progress()) is None
    assert stop(Progress(rounds=1, elapsed=1.0)) is StopReason.EXHAUSTED
    assert stop(Progress(elapsed=1.0)) is StopReason.TIME


def test_limits_before_the_start_are_refused() -> None:
    """A negative limit is a slip of the caller, not a search of no length."""
    with pytest.raises(ProblemError):
        MaxRuntime(-1.0)
    with pytest.raises(ProblemError):
        MaxRounds(-1)
