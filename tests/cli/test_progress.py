"""Tests of nesting.cli.progress: what a person reads while a plan is made."""

from __future__ import annotations

from nesting.cli.progress import state_text
from nesting.domain.progress import NEXT_BEST, Progress


def test_a_search_under_way_tells_its_gap() -> None:
    """550.00 found, 530.10 proved: 19.90 of 550.00 are open."""
    now = Progress(group="G", phase="buy", best=5_500_000, bound=5_301_000)
    assert state_text(now, priced=True) == "G: buy, best 550.00, bound 530.10, gap 3.62%"


def test_a_plan_that_is_proved_says_so_while_the_next_best_is_looked_for() -> None:
    """Who waits must not think that the plan itself is still open."""
    now = Progress(group="G", phase=NEXT_BEST, best=5_301_000, bound=5_301_000)
    assert state_text(now, priced=True) == "G: proved, 530.10; looking for the next best"
    bars = Progress(group="G", phase=NEXT_BEST, best=31, bound=31)
    assert state_text(bars, priced=False) == "G: proved, 31; looking for the next best"
