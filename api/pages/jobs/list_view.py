"""All jobs on a page: how each stands, how much of it is cut, its share of the cost."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from api.jobs.schemas import JobRead
from api.jobs.service import show_jobs
from api.pages.jobs.read import again_by_job
from api.pages.jobs.view import share_words, status_words
from api.plans.states import PlanState
from api.store.models import JobPlanRow, JobRow, PlanRow
from nesting.money import read_money
from nesting.reports.lengths import BothUnits

ON_A_PAGE = 100
_COMMITTED = (PlanState.RELEASED.value, PlanState.IN_CUTTING.value, PlanState.FINISHED.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLine:
    """
    One job as a row.

    Parameters
    ----------
    pieces, cut
        In released plans.
    proposed
        Pieces in plans that are proposed.
    left_out
        Pieces or runs that the plans in force leave out.
    again
        Pieces that must be made again.
    waiting
        Lines in no plan yet.
    cost, cost_share
        In released plans; the share is of all jobs in one currency.
    """

    id: str
    name: str
    status: str
    pieces: int
    cut: int
    proposed: int
    left_out: int
    again: int
    waiting: int
    cost: str
    cost_share: str
    plans: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobsView:
    """One page of jobs; ``count`` is of all of them."""

    lines: tuple[JobLine, ...]
    count: int
    page: int
    pages: int

    @property
    def waiting(self) -> bool:
        """Whether anything here can be planned."""
        return any(line.waiting for line in self.lines)


def list_jobs(session: Session, lengths: BothUnits, *, name: str = "", page: int = 1) -> JobsView:
    """
    Give one page of the jobs by name.

    Parameters
    ----------
    name
        Any part of a name, in capitals or not.
    """
    tests = [func.lower(JobRow.name).contains(name.lower(), autoescape=True)] if name else []
    count = int(session.execute(select(func.count()).select_from(JobRow).where(*tests)).scalar_one())
    query = select(JobRow).where(*tests).order_by(JobRow.name)
    rows = session.scalars(query.offset((page - 1) * ON_A_PAGE).limit(ON_A_PAGE)).all()
    costs = _costs(session)
    numbers = _numbers(session, [row.id for row in rows])
    again = again_by_job(session, numbers)
    lines = tuple(_line(read, costs, numbers, again) for read in show_jobs(session, rows, lengths.unit))
    return JobsView(lines=lines, count=count, page=page, pages=max(1, -(-count // ON_A_PAGE)))


def _line(read: JobRead, costs: dict[str, int], numbers: dict[str, int], again: Counter[str]) -> JobLine:
    one = next(iter(read.cost.items()), None) if len(read.cost) == 1 else None
    given_up = (PlanState.WITHDRAWN, PlanState.FAILED)
    live = [part for part in read.plans if part.state not in given_up]
    return JobLine(
        id=read.id,
        name=read.name,
        status=status_words(read.status),
        pieces=read.pieces,
        cut=read.done,
        proposed=sum(part.pieces for part in live if part.state is PlanState.PROPOSED),
        left_out=sum(part.unplaced for part in live),
        again=again[read.name],
        waiting=read.waiting,
        cost=", ".join(f"{amount} {currency}".strip() for currency, amount in read.cost.items()),
        cost_share=share_words(read_money(one[1]), costs.get(one[0], 0)) if one else "",
        plans=tuple((part.plan, f"P{numbers[part.plan]}") for part in live),
    )


def _costs(session: Session) -> dict[str, int]:
    """Give what all jobs cost in released plans, by currency; none in which a price is unknown counts."""
    query = (
        select(JobPlanRow.currency, func.sum(JobPlanRow.cost))
        .join(PlanRow, PlanRow.id == JobPlanRow.plan_id)
        .where(PlanRow.state.in_(_COMMITTED), PlanRow.summary["cost"].as_string().is_not(None))
        .group_by(JobPlanRow.currency)
    )
    return {currency: int(total) for currency, total in session.execute(query)}


def _numbers(session: Session, jobs: list[str]) -> dict[str, int]:
    query = (
        select(PlanRow.id, PlanRow.number)
        .join(JobPlanRow, JobPlanRow.plan_id == PlanRow.id)
        .where(JobPlanRow.job_id.in_(jobs))
    )
    return {str(plan): int(number) for plan, number in session.execute(query)}
