"""Comparisons beside the server: asked for, waited for, kept, and ended with it."""

import time

import pytest

from api.plans.comparing import Comparisons, Progress, comparison_of, growth_of
from api.web.problems import Problem
from nesting.advice.compare import compare
from nesting.exchange import read_request
from tests.api.service import Running, pieces_request


def ended(comparisons: Comparisons, plan: str) -> None:
    while comparisons.progress(plan) is not None:
        time.sleep(0.02)


def test_a_comparison_is_kept_with_its_plan(service: Running) -> None:
    """Asking returns at once; the answer is there when the progress has gone."""
    plan = service.proposed(pieces_request({610: 6, 905: 3}))
    comparisons = Comparisons(service.store)
    comparisons.ask(plan, 20)
    assert comparisons.progress(plan) in (Progress.WAITING, Progress.RUNNING)
    ended(comparisons, plan)
    assert comparisons.fault(plan) == ""
    made = comparison_of(service.store, plan)
    comparisons.close()
    assert growth_of(service.store, plan) == ()  # pieces that were taken off elsewhere do not grow
    assert made == compare(read_request(pieces_request({610: 6, 905: 3}), source="request"))


def test_comparing_again_replaces(service: Running) -> None:
    """A plan has one comparison, the latest."""
    plan = service.proposed(pieces_request({610: 2}))
    comparisons = Comparisons(service.store)
    for _ in range(2):
        comparisons.ask(plan, 20)
        ended(comparisons, plan)
    assert comparison_of(service.store, plan) is not None
    comparisons.close()


def test_an_unknown_plan_is_refused(service: Running) -> None:
    """Nothing is started for a plan that is not there."""
    comparisons = Comparisons(service.store)
    with pytest.raises(Problem, match="There is no plan"):
        comparisons.ask("0" * 32, 20)
    comparisons.close()


def test_closing_ends_what_is_under_way(service: Running) -> None:
    """The server's end does not wait for a comparison, and leaves no process behind."""
    plan = service.proposed(pieces_request({610: 6}))
    comparisons = Comparisons(service.store)
    comparisons.ask(plan, 600)
    comparisons.close()
    assert comparisons.progress(plan) is None
    comparisons.ask(plan, 600)
    assert comparisons.progress(plan) is None


def test_a_plan_that_is_not_made_is_refused(service: Running) -> None:
    """There is nothing to hold other purchases against."""
    sent = service.send(pieces_request({610: 6}))
    comparisons = Comparisons(service.store)
    with pytest.raises(Problem, match="nothing to compare yet"):
        comparisons.ask(sent.json()["id"], 20)
    comparisons.close()
