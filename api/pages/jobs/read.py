"""Reading how jobs stand: their plans, the bars of these, what nobody has planned yet."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.jobs import service
from api.pages.jobs.progress import BarNow, Batch
from api.pages.results import result_of
from api.plans.bar_record import from_json
from api.plans.states import BarState, PlanState
from api.store.engine import Store
from api.store.models import BarRow, JobPlanRow, PlanRow

_SHOWN = (
    PlanState.PROPOSED,
    PlanState.RELEASED,
    PlanState.IN_CUTTING,
    PlanState.FINISHED,
    PlanState.WITHDRAWN,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What a job takes from one plan, with what all jobs of the plan take: costs in ten-thousandths."""

    plan: PlanRow
    share: JobPlanRow
    consumed_by_all: int
    cost_of_all: int


def parts_of(session: Session, job_id: str) -> tuple[Part, ...]:
    """Give the plans that have a part of a job, latest first."""
    query = (
        select(PlanRow, JobPlanRow)
        .join(JobPlanRow, JobPlanRow.plan_id == PlanRow.id)
        .where(JobPlanRow.job_id == job_id)
        .order_by(PlanRow.number.desc())
    )
    found = [(plan, share) for plan, share in session.execute(query)]
    consumed: defaultdict[str, int] = defaultdict(int)
    cost: defaultdict[str, int] = defaultdict(int)
    ids = [plan.id for plan, _ in found]
    for share in session.scalars(select(JobPlanRow).where(JobPlanRow.plan_id.in_(ids))):
        consumed[share.plan_id] += share.consumed
        cost[share.plan_id] += share.cost
    return tuple(
        Part(plan=plan, share=share, consumed_by_all=consumed[plan.id], cost_of_all=cost[plan.id])
        for plan, share in found
    )


def batches_of(session: Session, store: Store, plans: Sequence[PlanRow]) -> tuple[Batch, ...]:
    """Give plans with how their bars stand; those that are not made yet, or failed, are left out."""
    shown = [row for row in plans if PlanState(row.state) in _SHOWN]
    bars = bars_of(session, [row.id for row in shown])
    made = [(row, result_of(store, row.id)) for row in shown]
    return tuple(
        Batch(
            id=row.id,
            number=row.number,
            plan=plan,
            closed=row.closed_by is not None or PlanState(row.state) is PlanState.WITHDRAWN,
            bars=bars.get(row.id, {}),
        )
        for row, plan in made
        if plan is not None
    )


def bars_of(session: Session, plans: Collection[str]) -> dict[str, dict[int, BarNow]]:
    """Give how the bars of released plans stand, by plan and number."""
    query = select(BarRow.plan_id, BarRow.number, BarRow.state, BarRow.report)
    bars: defaultdict[str, dict[int, BarNow]] = defaultdict(dict)
    for plan, number, state, report in session.execute(query.where(BarRow.plan_id.in_(plans))):
        bars[plan][number] = BarNow(
            state=BarState(state),
            spoiled=frozenset((report or {}).get("spoiled", ())),
        )
    return bars


def again_by_job(session: Session, plans: Collection[str]) -> Counter[str]:
    """Count, by the name of the job, the pieces that bars of these plans do not give any more."""
    at_saw = (BarState.CUT.value, BarState.DEFECT.value, BarState.MISSING.value)
    query = select(BarRow.plan_id, BarRow.number, BarRow.open_pieces)
    reported = session.execute(query.where(BarRow.plan_id.in_(plans), BarRow.state.in_(at_saw))).all()
    again: Counter[str] = Counter()
    for plan, number, pieces in reported:
        if pieces:
            jobs = from_json(session.get_one(BarRow, (plan, number)).record).jobs
            again.update(jobs[piece] for piece in pieces)
    return again


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingLine:
    """A run or piece line that was collected for a job and is in no plan."""

    id: str
    building: str
    floor: str
    unit: str
    quantity: int


def waiting_lines(session: Session, job_id: str) -> tuple[WaitingLine, ...]:
    """Give what nobody has planned yet of a job."""
    return tuple(
        WaitingLine(
            id=row.line,
            building=str((row.document.get("place") or {}).get("building", "")),
            floor=str((row.document.get("place") or {}).get("floor", "")),
            unit=str((row.document.get("place") or {}).get("unit", "")),
            quantity=int(row.document.get("quantity", 1)),
        )
        for row in service.waiting_lines(session, job_id)
    )
