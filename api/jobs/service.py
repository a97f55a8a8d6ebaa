"""Collecting lines for jobs, planning them, telling how each job stands."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.catalogue.contents import Contents, contents, lend
from api.jobs.schemas import JobPlanRead, JobRead, JobsPlan, JobStatus
from api.jobs.shares import job_ids
from api.plans.service import PlanOptions, submit
from api.plans.states import PlanState
from api.settings import Settings
from api.store.models import JobLineRow, JobPlanRow, JobRow, PlanRow
from api.web.holders import plan_holders
from api.web.lengths import length_read, moment, money_read
from api.web.problems import Problem, not_found
from nesting.domain.request import Request
from nesting.exchange import read_request, write_request
from nesting.units import Unit

# What a plan had cut before it was withdrawn stays cut and paid for.
_COMMITTED = (PlanState.RELEASED, PlanState.IN_CUTTING, PlanState.FINISHED, PlanState.WITHDRAWN)


@dataclass(slots=True)
class Collected:
    """How many lines were new, changed and known, and the jobs they are of."""

    new: int = 0
    replaced: int = 0
    same: int = 0
    jobs: tuple[str, ...] = ()


def collect(session: Session, request: Request, now: int) -> Collected:
    """
    Keep the runs and piece lines of a request with their jobs, to be planned later.

    Raises
    ------
    Problem
        When a line would change that is in a plan already.
    """
    tree = json.loads(write_request(request))
    given = [(kind, line) for kind in ("runs", "piece_lines") for line in tree.get(kind, ())]
    ids = job_ids(session, (line["job"] for _, line in given), now)
    outcome = Collected(jobs=tuple(sorted(ids.values())))
    for kind, line in given:
        _keep_line(session, ids[line["job"]], kind, line, now, outcome)
    return outcome


def _keep_line(
    session: Session, job_id: str, kind: str, line: dict[str, Any], now: int, outcome: Collected
) -> None:
    document = {key: value for key, value in line.items() if key != "where"}
    row = session.get(JobLineRow, (job_id, line["id"]), with_for_update=True)
    if row is None:
        outcome.new += 1
        session.add(JobLineRow(job_id=job_id, line=line["id"], kind=kind, document=document, created_at=now))
        return
    if (row.kind, row.document) == (kind, document):
        outcome.same += 1
        return
    if row.plan_id is not None and not _given_up(session, row.plan_id):
        holder = plan_holders(session, [row.plan_id])[row.plan_id]
        said = f"Line {line['id']} of job {line['job']}"
        detail = (
            f"{said} is in {holder.words}; withdraw that first, or plan it again if something of it was cut."
        )
        who = {"thing": said, "state": "planned", "plan": row.plan_id, "holder": holder.by}
        raise Problem(409, "line-planned", detail, conflicts=[who])
    row.kind, row.document = kind, document
    outcome.replaced += 1


def _given_up(session: Session, plan_id: str) -> bool:
    state = session.execute(select(PlanRow.state).where(PlanRow.id == plan_id)).scalar_one()
    return bool(state == PlanState.FAILED.value)


@dataclass(frozen=True, slots=True)
class JobsRequest:
    """A request made of collected lines, and these lines."""

    request: Request
    lines: tuple[JobLineRow, ...]


def requests_for(session: Session, wanted: JobsPlan, have: Contents) -> list[JobsRequest]:
    """
    Make one request of all the jobs, or one of each, from the lines that are in no plan yet.

    Raises
    ------
    Problem
        When a job is not known, or nothing of the jobs is waiting.
    InputRefused
        When the lines do not go with the catalogue there is now.
    """
    lines = []
    for job_id in dict.fromkeys(wanted.jobs):
        if session.get(JobRow, job_id) is None:
            raise not_found(f"job {job_id}")
        lines.append(waiting_lines(session, job_id, lock=True))
    groups = [[line for group in lines for line in group]] if wanted.together else lines
    made = [_request(wanted, group, have) for group in groups if group]
    if not made:
        raise Problem(409, "nothing-waiting", "Every line of these jobs is in a plan already.")
    return made


def plan_waiting(
    session: Session,
    wanted: JobsPlan,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
) -> list[str]:
    """
    Put what is waiting of some jobs into the queue; give the ids of the new plans.

    Raises
    ------
    Problem
        When a job is not known, or nothing of the jobs is waiting.
    InputRefused
        When the lines do not go with the catalogue there is now.
    """
    plans = []
    for one in requests_for(session, wanted, contents(session)):
        row = submit(session, one.request, options, caller, now, settings)
        session.flush()
        for line in one.lines:
            line.plan_id = row.id
        plans.append(row.id)
    return plans


def waiting_lines(session: Session, job_id: str, *, lock: bool = False) -> Sequence[JobLineRow]:
    """
    Give the lines of a job that can be planned: in no plan, or in one that failed.

    What of a line was cut before its plan was withdrawn is planned again with that plan, and does not wait.
    """
    query = (
        select(JobLineRow)
        .outerjoin(PlanRow, PlanRow.id == JobLineRow.plan_id)
        .where(
            JobLineRow.job_id == job_id,
            or_(JobLineRow.plan_id.is_(None), PlanRow.state == PlanState.FAILED.value),
        )
        .order_by(JobLineRow.created_at, JobLineRow.line)
    )
    return session.scalars(query.with_for_update(of=JobLineRow) if lock else query).all()


def _request(wanted: JobsPlan, lines: Sequence[JobLineRow], have: Contents) -> JobsRequest:
    tree: dict[str, Any] = {"schema": 1, "title": wanted.title, "saw": wanted.saw}
    if wanted.currency:
        tree["currency"] = wanted.currency
    if wanted.cover_saw is not None:
        tree["cover_saw"] = wanted.cover_saw
    for kind in ("runs", "piece_lines"):
        tree[kind] = [line.document for line in lines if line.kind == kind]
    return JobsRequest(read_request(lend(json.dumps(tree), have)), tuple(lines))


def show_jobs(session: Session, rows: Sequence[JobRow], unit: Unit) -> list[JobRead]:
    """Tell how jobs stand."""
    ids = [row.id for row in rows]
    lines = _count_lines(session, ids)
    parts: dict[str, list[tuple[JobPlanRow, PlanRow]]] = {identity: [] for identity in ids}
    query = (
        select(JobPlanRow, PlanRow)
        .join(PlanRow, PlanRow.id == JobPlanRow.plan_id)
        .where(JobPlanRow.job_id.in_(ids))
        .order_by(PlanRow.number.desc())
    )
    for part, plan in session.execute(query):
        parts[part.job_id].append((part, plan))
    planning = set(
        session.scalars(
            select(JobLineRow.job_id)
            .join(PlanRow, PlanRow.id == JobLineRow.plan_id)
            .where(
                JobLineRow.job_id.in_(ids),
                PlanRow.state.in_((PlanState.QUEUED.value, PlanState.SOLVING.value)),
            )
        )
    )
    return [_show(row, *lines[row.id], parts[row.id], row.id in planning, unit) for row in rows]


def _count_lines(session: Session, ids: Sequence[str]) -> dict[str, tuple[int, int]]:
    total: Counter[str] = Counter()
    waiting: Counter[str] = Counter()
    query = (
        select(JobLineRow.job_id, PlanRow.state)
        .outerjoin(PlanRow, PlanRow.id == JobLineRow.plan_id)
        .where(JobLineRow.job_id.in_(ids))
    )
    for job_id, state in session.execute(query):
        total[job_id] += 1
        waiting[job_id] += state in (None, PlanState.FAILED.value)
    return {identity: (total[identity], waiting[identity]) for identity in ids}


def _show(
    row: JobRow,
    lines: int,
    waiting: int,
    parts: Sequence[tuple[JobPlanRow, PlanRow]],
    planning: bool,
    unit: Unit,
) -> JobRead:
    committed = [part for part, plan in parts if PlanState(plan.state) in _COMMITTED]
    priced = {plan.id for _, plan in parts if (plan.summary or {}).get("cost") is not None}
    cost: Counter[str] = Counter()
    for part in committed:
        if part.plan_id in priced:
            cost[part.currency] += part.cost
    return JobRead(
        id=row.id,
        name=row.name,
        created_at=moment(row.created_at),
        status=_status(waiting, planning, parts),
        lines=lines,
        waiting=waiting,
        pieces=sum(part.pieces for part in committed),
        done=sum(part.done for part in committed),
        good=length_read(sum(part.good for part in committed), unit),
        consumed=length_read(sum(part.consumed for part in committed), unit),
        cost={currency: money_read(amount) or "" for currency, amount in sorted(cost.items())},
        plans=[
            JobPlanRead(
                plan=plan.id,
                state=PlanState(plan.state),
                pieces=part.pieces,
                unplaced=part.unplaced,
                done=part.done,
                good=length_read(part.good, unit),
                consumed=length_read(part.consumed, unit),
                cost=money_read(part.cost if plan.id in priced else None),
                currency=part.currency,
            )
            for part, plan in parts
        ],
    )


def _status(waiting: int, planning: bool, parts: Sequence[tuple[JobPlanRow, PlanRow]]) -> JobStatus:
    if waiting:
        return JobStatus.COLLECTED
    if planning:
        return JobStatus.PLANNING
    if _left_half_cut(parts):
        return JobStatus.WITHDRAWN
    states = {PlanState(plan.state) for _, plan in parts}
    for state in (PlanState.PROPOSED, PlanState.RELEASED, PlanState.IN_CUTTING, PlanState.FINISHED):
        if state in states:
            return JobStatus(state.value)
    return JobStatus.EMPTY


def _left_half_cut(parts: Sequence[tuple[JobPlanRow, PlanRow]]) -> bool:
    """Whether a plan was withdrawn after it, or one it goes on from, had cut something; none follows it."""
    plans = {plan.id: plan for _, plan in parts}
    cut = {plan.id for part, plan in parts if part.done}
    followed = {plan.parent for plan in plans.values()}

    def begun(plan: PlanRow) -> bool:
        before = plans.get(plan.parent or "")
        return plan.id in cut or (before is not None and begun(before))

    withdrawn = [plan for plan in plans.values() if plan.state == PlanState.WITHDRAWN.value]
    return any(plan.id not in followed and begun(plan) for plan in withdrawn)
