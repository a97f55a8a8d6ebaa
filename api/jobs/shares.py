"""What each job takes from a finished plan."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping

from sqlalchemy import Insert, select
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from api.plans.bar_record import BarRecord
from api.processes.record import Planned
from api.store.documents import DocumentKind, has_document
from api.store.ids import new_id
from api.store.models import JobPlanRow, JobRow, PlanRow


def job_ids(session: Session, names: Iterable[str], now: int) -> Mapping[str, str]:
    """Give the id of each job by name; a job nobody has named before is made."""
    wanted = sorted(set(names))
    if not wanted:
        return {}
    rows = [{"id": new_id(), "name": name, "created_at": now} for name in wanted]
    session.execute(_insert_new(session).values(rows))
    found = session.execute(select(JobRow.name, JobRow.id).where(JobRow.name.in_(wanted)))
    return dict(iter(found))


def keep_shares(session: Session, plan_id: str, planned: Planned, now: int) -> None:
    """
    Keep what each job takes from the plan.

    A plan that follows another one holds what was cut before it as well; its shares are what is left of
    the whole when that is taken off, so that the shares of all of them come to what is really paid.
    """
    ids = job_ids(session, (part.job for part in planned.jobs), now)
    earlier = _earlier_shares(session, plan_id)
    session.add_all(
        JobPlanRow(
            job_id=ids[part.job],
            plan_id=plan_id,
            pieces=part.pieces - earlier[ids[part.job]]["pieces"],
            unplaced=part.unplaced,
            good=part.good - earlier[ids[part.job]]["good"],
            consumed=part.consumed - earlier[ids[part.job]]["consumed"],
            cost=part.cost - earlier[ids[part.job]]["cost"],
            currency=planned.currency,
        )
        for part in planned.jobs
    )


_ADDED = ("pieces", "good", "consumed", "cost")


def _earlier_shares(session: Session, plan_id: str) -> defaultdict[str, Counter[str]]:
    """Add up what each job has taken from the plans that a plan goes on from."""
    sums: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for ancestor in followed(session, plan_id):
        for row in session.scalars(select(JobPlanRow).where(JobPlanRow.plan_id == ancestor)):
            sums[row.job_id].update({name: getattr(row, name) for name in _ADDED})
    return sums


def followed(session: Session, plan_id: str) -> list[str]:
    """Give the ids of the plans that a plan goes on from, the latest first; none for a plan of its own."""
    chain: list[str] = []
    now: str | None = plan_id
    while now is not None and has_document(session, now, DocumentKind.FOLLOWS):
        now = session.execute(select(PlanRow.parent).where(PlanRow.id == now)).scalar_one()
        if now is not None:
            chain.append(now)
    return chain


def _insert_new(session: Session) -> Insert:
    """Insert what is not there yet: two plans of one job may finish at the same moment."""
    if session.get_bind().dialect.name == "sqlite":
        return sqlite.insert(JobRow).on_conflict_do_nothing(index_elements=["name"])
    return postgresql.insert(JobRow).on_conflict_do_nothing(index_elements=["name"])


def note_done(
    session: Session, plan_id: str, made: BarRecord, spoiled: Collection[str], *, withdrawn: bool = False
) -> None:
    """
    Count the good pieces of a bar that has been cut as done, job by job.

    Parameters
    ----------
    withdrawn
        Whether its report is taken back: they are to be made again as before.
    """
    sign = -1 if withdrawn else 1
    rows = session.scalars(select(JobPlanRow).where(JobPlanRow.plan_id == plan_id))
    of_job = {row.job_id: row for row in rows}
    ids = dict(iter(session.execute(select(JobRow.name, JobRow.id).where(JobRow.id.in_(of_job)))))
    for cut in made.bar.cuts:
        row = of_job.get(ids.get(made.jobs[cut.piece], ""))
        if row is not None and cut.piece not in spoiled:
            row.done += sign
            row.done_length += sign * cut.length


def settle_shares(session: Session, plan_id: str, cut: Iterable[tuple[BarRecord, Collection[str]]]) -> None:
    """
    Bring what the jobs take from a plan down to what was cut of it.

    Parameters
    ----------
    cut
        The bars that were cut, each with its spoiled pieces.
    """
    sums: dict[str, list[int]] = {}
    for made, spoiled in cut:
        for job, share in made.shares.items():
            total = sums.setdefault(job, [0, 0, 0, 0])
            lost = [c for c in made.bar.cuts if c.piece in spoiled and made.jobs[c.piece] == job]
            total[0] += share.pieces - len(lost)
            total[1] += share.good - sum(c.length for c in lost)
            total[2] += share.consumed
            total[3] += share.cost
    rows = session.execute(select(JobPlanRow, JobRow.name).join(JobRow).where(JobPlanRow.plan_id == plan_id))
    for row, name in rows.all():
        row.pieces, row.good, row.consumed, row.cost = sums.get(name, [0, 0, 0, 0])
        row.unplaced = 0
