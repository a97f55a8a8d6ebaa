"""Which plan has taken another one's place."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.plans.states import PlanState
from api.store.models import PlanRow

GIVEN_UP = (PlanState.FAILED.value, PlanState.WITHDRAWN.value)


@dataclass(frozen=True, slots=True)
class Relative:
    """Another plan that this one re-plans or is re-planned by."""

    id: str
    number: int
    state: str

    @property
    def lives(self) -> bool:
        """Whether it was neither withdrawn nor given up."""
        return self.state not in GIVEN_UP


def has_made_way(state: str, closed_by: str | None) -> bool:
    """Whether a plan was closed by somebody, so that a plan that follows it has taken its place."""
    return bool(closed_by) and state in (PlanState.FINISHED, PlanState.WITHDRAWN)


def successors(session: Session, plans: Collection[str]) -> dict[str, Relative]:
    """Give the latest plan that goes on from each of these; one that failed or was withdrawn does not."""
    query = select(PlanRow.parent, PlanRow.id, PlanRow.number, PlanRow.state).where(
        PlanRow.parent.in_(plans), PlanRow.state.not_in(GIVEN_UP)
    )
    # The latest stands for all: it is read last.
    found = session.execute(query.order_by(PlanRow.number))
    return {str(row.parent): Relative(row.id, row.number, row.state) for row in found}


def replaced_by(session: Session, rows: Collection[PlanRow]) -> dict[str, Relative]:
    """Give the plan that has taken the place of each of these that has made way, by the id of the old one."""
    made_way = [row.id for row in rows if has_made_way(row.state, row.closed_by)]
    return successors(session, made_way) if made_way else {}
