"""A group is called proved only when its bound reaches its cost, and nothing spent has no gap."""

from __future__ import annotations

from dataclasses import replace

from tests.verify.small_plan import plan

GROUP = plan().groups[0]


def test_a_plan_is_proved_when_the_bound_reaches_it() -> None:
    """Nothing cheaper exists then; a bound above the cost is none the less no gap below zero."""
    for bound, proved, gap in ((128_000, True, 0.0), (96_000, False, 0.25), (130_000, True, 0.0)):
        group = replace(GROUP, cost=128_000, bound=bound)
        assert (group.proved, group.gap) == (proved, gap)


def test_a_plan_that_costs_nothing_has_no_gap() -> None:
    """Everything from offcuts that are free."""
    free = replace(GROUP, cost=0, bound=0)
    assert (free.proved, free.gap) == (True, 0.0)
