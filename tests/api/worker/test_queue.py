"""The durable queue: every plan is made once, whoever dies, freezes or comes too late."""

import pytest
from sqlalchemy import select, update

from api.plans.states import PlanState
from api.processes.record import Planned
from api.store.models import DocumentRow, PlanRow
from api.worker import queue
from api.worker.presence import beat, count_alive, leave
from api.worker.queue import Claim, Terms
from benchmarks.service.invariants import broken
from tests.api.service import TERMS, Running, pieces_request

PLANNED = Planned(
    digest="d",
    document="{}",
    summary={"findings": [], "jobs": []},
    jobs=(),
    currency="",
)


def sent(service: Running) -> str:
    return str(service.send(pieces_request({610: 1})).json()["id"])


def claimed(service: Running, worker: str) -> Claim:
    claim = queue.claim(service.store, worker, TERMS)
    assert claim is not None
    return claim


def state(service: Running, plan: str) -> PlanRow:
    with service.store.read() as session:
        return session.scalars(select(PlanRow).where(PlanRow.id == plan)).one()


def lease_runs_out(service: Running, plan: str) -> None:
    with service.store.write() as session:
        session.execute(update(PlanRow).where(PlanRow.id == plan).values(lease_until=0))


def test_a_plan_is_claimed_once(either: Running) -> None:
    """While one worker has it nobody else gets it."""
    plan = sent(either)
    assert queue.anything_to_do(either.store)
    assert claimed(either, "one").plan_id == plan
    assert queue.claim(either.store, "two", TERMS) is None
    assert not queue.anything_to_do(either.store)


def test_a_dead_workers_plan_is_made_elsewhere(either: Running) -> None:
    """Its lease runs out, and the next one who asks has it; no person needed."""
    plan = sent(either)
    claimed(either, "dead")
    lease_runs_out(either, plan)
    again = claimed(either, "alive")
    assert (again.plan_id, again.attempt) == (plan, 2)
    assert queue.finish(either.store, "alive", plan, again.attempt, PLANNED)
    assert state(either, plan).state == "proposed"


def test_a_frozen_worker_that_wakes_up_does_no_harm(either: Running) -> None:
    """Its result, its failure and its giving back are all too late, and change nothing."""
    plan = sent(either)
    frozen = claimed(either, "frozen")
    lease_runs_out(either, plan)
    again = claimed(either, "alive")
    late = Planned(digest="late", document='{"late": 1}', summary={}, jobs=(), currency="")
    for _ in range(2):  # while the other is at work, and after it has finished
        assert not queue.finish(either.store, "frozen", plan, frozen.attempt, late)
        assert not queue.fail(either.store, "frozen", plan, frozen.attempt, "late")
        assert not queue.give_back(either.store, "frozen", plan, frozen.attempt, TERMS, crashed=True)
        standing = queue.renew(either.store, "frozen", {(plan, frozen.attempt)}, {}, TERMS)
        assert standing.mine == frozenset()
        queue.finish(either.store, "alive", plan, again.attempt, PLANNED)
    assert state(either, plan).digest == "d"
    with either.store.read() as session:
        results = session.scalars(select(DocumentRow).where(DocumentRow.kind == "result")).all()
    assert len(results) == 1
    assert broken(either.store, frozenset({plan})) == []


def test_the_same_worker_may_not_use_an_older_claim(either: Running) -> None:
    """Its lease ran out, it claimed anew: only the new attempt counts."""
    plan = sent(either)
    first = claimed(either, "one")
    lease_runs_out(either, plan)
    second = claimed(either, "one")
    assert not queue.finish(either.store, "one", plan, first.attempt, PLANNED)
    assert queue.finish(either.store, "one", plan, second.attempt, PLANNED)


def test_renewing_keeps_the_lease_and_brings_news_both_ways(either: Running) -> None:
    """Progress goes to the store, a cancel comes back."""
    plan = sent(either)
    claim = claimed(either, "one")
    lease_runs_out(either, plan)
    either.client.post(f"/v1/plans/{plan}/cancel")
    news = {"groups": 1, "done": 0, "phase": "columns", "best": 3, "bound": 2, "gap": 0.333333}
    standing = queue.renew(either.store, "one", {(plan, claim.attempt)}, {plan: news}, TERMS)
    assert standing.cancelled == frozenset({plan})
    assert queue.claim(either.store, "two", TERMS) is None
    shown = either.client.get(f"/v1/plans/{plan}/progress").json()["progress"]
    assert (shown["phase"], shown["best"], shown["bound"], shown["gap"]) == ("columns", 3, 2, 0.333333)


def test_a_plan_that_brings_its_process_down_is_given_up(either: Running) -> None:
    """Three times, then it fails with words instead of taking every worker with it."""
    plan = sent(either)
    for _ in range(3):
        claim = claimed(either, "one")
        assert queue.give_back(either.store, "one", plan, claim.attempt, TERMS, crashed=True)
    row = state(either, plan)
    assert row.state == "failed"
    assert "brought the solver down" in (row.fault or "")
    shown = either.plan(plan)
    assert (shown["reason"], shown["closed_by"]) == (row.fault, "worker one")


def test_a_plan_that_is_started_without_end_is_given_up(either: Running) -> None:
    """Workers that die with it, again and again, are not fed with it for ever."""
    plan = sent(either)
    terms = Terms(lease_seconds=10, max_attempts=2, max_crashes=3)
    for _ in range(2):
        assert queue.claim(either.store, "one", terms) is not None
        lease_runs_out(either, plan)
    assert queue.claim(either.store, "one", terms) is None
    assert state(either, plan).state == "failed"


def test_a_worker_that_goes_in_good_order_leaves_its_plans(either: Running) -> None:
    """They are in the queue again at once, no lease to wait for."""
    plan = sent(either)
    claimed(either, "one")
    queue.give_back_all(either.store, "one")
    assert claimed(either, "two").plan_id == plan


def test_a_plan_withdrawn_while_it_is_solved_stays_withdrawn(either: Running) -> None:
    """The result comes too late."""
    plan = sent(either)
    claim = claimed(either, "one")
    assert either.client.post(f"/v1/plans/{plan}/withdraw").json()["state"] == "withdrawn"
    assert not queue.finish(either.store, "one", plan, claim.attempt, PLANNED)
    assert state(either, plan).state == PlanState.WITHDRAWN.value


@pytest.mark.parametrize("silent", [0, 60])
def test_workers_are_known_by_their_beat(either: Running, silent: int) -> None:
    """One that has not been heard of lately does not count."""
    beat(either.store, "one", 2)
    with either.store.read() as session:
        now = either.store.now(session)
        assert count_alive(session, now + silent * 1_000_000, 30) == (0 if silent else 1)
    leave(either.store, "one")
    with either.store.read() as session:
        assert count_alive(session, now, 30) == 0
