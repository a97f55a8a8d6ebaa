"""
The durable queue: a plan's own row is its place in it.

A worker owns a plan by a lease that it renews while it works. A lease that has run out is open to
every worker, so a dead worker's plans are finished elsewhere. Each claim has a new attempt number,
and only the latest attempt may write a result: a worker that wakes up late is too late.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from sqlalchemy import and_, or_, select, update
from sqlalchemy.orm import Session

from api.jobs.shares import keep_shares
from api.plans.states import PlanState
from api.processes.record import Planned
from api.processes.solver import Work
from api.store.documents import DocumentKind, get_document, put_document
from api.store.engine import Store
from api.store.models import PlanRow


@dataclass(frozen=True, slots=True)
class Claim:
    """A plan that this worker may make; ``attempt`` is what it must show when it hands the result in."""

    plan_id: str
    number: int
    attempt: int
    request: str
    seed: int
    seconds: float
    cancelled: bool
    follow: str = ""


def work_of(claimed: Claim) -> Work:
    """Give what the solver process is asked for."""
    return Work(
        request=claimed.request,
        seed=claimed.seed,
        seconds=claimed.seconds,
        tag_prefix=f"P{claimed.number}",
        follow=claimed.follow,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """How long a lease runs, and when a plan is given up."""

    lease_seconds: float
    max_attempts: int
    max_crashes: int


def anything_to_do(store: Store) -> bool:
    """Whether a claim would find something; takes no lock."""
    with store.read() as session:
        now = store.now(session)
        return session.execute(select(PlanRow.number).where(_open(now)).limit(1)).first() is not None


def claim(store: Store, worker: str, terms: Terms) -> Claim | None:
    """Take the most urgent plan that nobody is at work on; None when there is none."""
    with store.write() as session:
        now = store.now(session)
        wanted = (
            select(PlanRow)
            .where(_open(now))
            .order_by(PlanRow.priority.desc(), PlanRow.number)
            .limit(1)
            .with_for_update(skip_locked=True)
        )
        plan = session.execute(wanted).scalar_one_or_none()
        if plan is None:
            return None
        if plan.attempt >= terms.max_attempts:
            _fail(plan, worker, now, "The plan was started too often without coming to an end.")
            return None
        plan.state, plan.worker = PlanState.SOLVING.value, worker
        plan.attempt += 1
        plan.lease_until = now + _microseconds(terms.lease_seconds)
        plan.changed_at = now
        request = get_document(session, plan.id, DocumentKind.REQUEST)
        assert request is not None, plan.id
        return Claim(
            plan_id=plan.id,
            number=plan.number,
            attempt=plan.attempt,
            request=request,
            seed=plan.seed,
            seconds=plan.seconds,
            cancelled=plan.cancel_asked,
            follow=get_document(session, plan.id, DocumentKind.FOLLOWS) or "",
        )


@dataclass(frozen=True, slots=True)
class Standing:
    """What a worker's claims have become: whether each is still its own, and is to be cut short."""

    mine: frozenset[tuple[str, int]]
    cancelled: frozenset[str]


def renew(
    store: Store, worker: str, held: Collection[tuple[str, int]], progress: dict[str, Any], terms: Terms
) -> Standing:
    """
    Renew the leases of the plans a worker is at work on, and tell how these stand.

    Parameters
    ----------
    held
        Pairs (plan id, attempt).
    progress
        Latest news by plan id, to be shown to whoever asks.
    """
    with store.write() as session:
        now = store.now(session)
        rows = session.execute(
            select(PlanRow)
            .where(PlanRow.worker == worker, PlanRow.state == PlanState.SOLVING.value)
            .order_by(PlanRow.number)
            .with_for_update()
        ).scalars()
        mine, cancelled = set(), set()
        for plan in rows:
            if (plan.id, plan.attempt) not in held:
                continue
            mine.add((plan.id, plan.attempt))
            plan.lease_until = now + _microseconds(terms.lease_seconds)
            if plan.id in progress:
                plan.progress = progress[plan.id]
            if plan.cancel_asked:
                cancelled.add(plan.id)
        return Standing(frozenset(mine), frozenset(cancelled))


def finish(store: Store, worker: str, plan_id: str, attempt: int, planned: Planned) -> bool:
    """Keep a plan; False, and nothing is changed, when the claim is no longer this worker's."""
    with store.write() as session:
        plan = _owned(session, worker, plan_id, attempt)
        if plan is None:
            return False
        now = store.now(session)
        put_document(session, plan_id, DocumentKind.RESULT, planned.document)
        plan.state = PlanState.PROPOSED.value
        plan.digest, plan.summary = planned.digest, planned.summary
        _let_go(plan, now)
        keep_shares(session, plan_id, planned, now)
        return True


def fail(store: Store, worker: str, plan_id: str, attempt: int, reason: str) -> bool:
    """Give a plan up; False when the claim is no longer this worker's."""
    with store.write() as session:
        plan = _owned(session, worker, plan_id, attempt)
        if plan is None:
            return False
        _fail(plan, worker, store.now(session), reason)
        return True


def give_back(store: Store, worker: str, plan_id: str, attempt: int, terms: Terms, *, crashed: bool) -> bool:
    """Put a plan back into the queue; one that keeps bringing its process down is given up."""
    with store.write() as session:
        plan = _owned(session, worker, plan_id, attempt)
        if plan is None:
            return False
        now = store.now(session)
        plan.crashes += crashed
        if plan.crashes >= terms.max_crashes:
            fault = "Planning this request brought the solver down each time it was tried."
            _fail(plan, worker, now, fault)
            return True
        plan.state = PlanState.QUEUED.value
        _let_go(plan, now)
        return True


def _open(now: int) -> Any:
    return or_(
        PlanRow.state == PlanState.QUEUED.value,
        and_(PlanRow.state == PlanState.SOLVING.value, PlanRow.lease_until < now),
    )


def _owned(session: Session, worker: str, plan_id: str, attempt: int) -> PlanRow | None:
    return session.execute(
        select(PlanRow)
        .where(
            PlanRow.id == plan_id,
            PlanRow.worker == worker,
            PlanRow.attempt == attempt,
            PlanRow.state == PlanState.SOLVING.value,
        )
        .with_for_update()
    ).scalar_one_or_none()


def _fail(plan: PlanRow, worker: str, now: int, reason: str) -> None:
    plan.state, plan.fault, plan.closed_by = PlanState.FAILED.value, reason, f"worker {worker}"
    _let_go(plan, now)


def _let_go(plan: PlanRow, now: int) -> None:
    plan.worker, plan.lease_until = None, None
    plan.version += 1
    plan.changed_at = now


def _microseconds(seconds: float) -> int:
    return int(seconds * 1_000_000)


def give_back_all(store: Store, worker: str) -> None:
    """Put everything a worker had back into the queue, when it goes in good order."""
    with store.write() as session:
        session.execute(
            update(PlanRow)
            .where(PlanRow.worker == worker, PlanRow.state == PlanState.SOLVING.value)
            .values(state=PlanState.QUEUED.value, worker=None, lease_until=None)
        )
