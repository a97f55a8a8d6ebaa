"""What each job takes from a finished plan."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sqlalchemy import Insert, select
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from api.processes.record import Planned
from api.store.ids import new_id
from api.store.models import JobPlanRow, JobRow


def job_ids(session: Session, names: Iterable[str], now: int) -> Mapping[str, str]:
    """Give the id of each job by name; a job nobody has named before is made."""
    wanted = sorted(set(names))
    if not wanted:
        return {}
    rows = [{"id": new_id(), "name": name, "created_at": now} for name in wanted]
    session.execute(_insert_new(session).values(rows))
    found = session.execute(select(JobRow.name, JobRow.id).where(JobRow.name.in_(wanted)))
    return dict(found)


def keep_shares(session: Session, plan_id: str, planned: Planned, now: int) -> None:
    """Keep what each job takes from the plan."""
    ids = job_ids(session, (part.job for part in planned.jobs), now)
    session.add_all(
        JobPlanRow(
            job_id=ids[part.job],
            plan_id=plan_id,
            pieces=part.pieces,
            unplaced=part.unplaced,
            good=part.good,
            consumed=part.consumed,
            cost=part.cost,
            currency=planned.currency,
        )
        for part in planned.jobs
    )


def _insert_new(session: Session) -> Insert:
    """Insert what is not there yet: two plans of one job may finish at the same moment."""
    if session.get_bind().dialect.name == "sqlite":
        return sqlite.insert(JobRow).on_conflict_do_nothing(index_elements=["name"])
    return postgresql.insert(JobRow).on_conflict_do_nothing(index_elements=["name"])
