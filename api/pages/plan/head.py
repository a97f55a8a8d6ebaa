"""How a plan stands in the shop: its state, its relations, what has been cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.plans.service import get_plan
from api.plans.states import BarState, PlanState
from api.plans.succession import Relative, has_made_way
from api.store.models import BarRow, JobPlanRow, JobRow, PlanRow


def replaced_words(number: int) -> str:
    """Say that a plan was planned again: nobody cuts by it any more, and it was not finished either."""
    return f"replaced by P{number}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """
    A plan as its row tells; times are microseconds since 1970 UTC.

    Parameters
    ----------
    summary
        The figures that are kept with the result; empty while there is none.
    parent, followers
        The plan it came from, and those that came from it, newest first.
    jobs
        Id of each job in it, by name.
    states
        How far the shop is with each bar, by number; empty before the plan is released.
    again
        Pieces that no bar of the plan gives any more: they must be made again.
    """

    id: str
    number: int
    title: str
    state: PlanState
    version: int
    priority: int
    seconds: float
    created_at: int
    created_by: str
    changed_at: int
    released_at: int | None
    released_by: str
    closed_by: str
    reason: str
    fault: str
    summary: Mapping[str, Any]
    parent: Relative | None
    followers: tuple[Relative, ...]
    jobs: dict[str, str]
    states: dict[int, str]
    again: frozenset[str] = frozenset()

    @property
    def made(self) -> bool:
        """Whether there is a result to show."""
        return bool(self.summary)

    @property
    def bars(self) -> int:
        """Bars to report on; 0 before the plan is released."""
        return len(self.states)

    @property
    def cut(self) -> int:
        """Bars reported cut."""
        return sum(state == BarState.CUT.value for state in self.states.values())

    @property
    def open(self) -> int:
        """Bars not reported yet."""
        return sum(state == BarState.OPEN.value for state in self.states.values())

    @property
    def gone(self) -> int:
        """Bars that were set aside or not found."""
        return sum(state in (BarState.DEFECT.value, BarState.MISSING.value) for state in self.states.values())

    @property
    def successor(self) -> Relative | None:
        """Give the plan that has taken this one's place; None while none has."""
        living = (one for one in self.followers if one.lives)
        return next(living, None) if has_made_way(self.state, self.closed_by) else None

    @property
    def stands(self) -> str:
        """Say how the plan stands: its state, or what has taken its place."""
        return replaced_words(self.successor.number) if self.successor else self.state.value

    @property
    def name(self) -> str:
        """Give the plan's short name, which its offcuts' tags begin with."""
        return f"P{self.number}"


def head_of(session: Session, plan_id: str) -> Head:
    """
    Give how a plan stands.

    Raises
    ------
    Problem
        When there is no such plan.
    """
    row = get_plan(session, plan_id)
    bars = session.execute(
        select(BarRow.number, BarRow.state, BarRow.open_pieces).where(BarRow.plan_id == plan_id)
    ).all()
    jobs = session.execute(
        select(JobRow.name, JobRow.id).join(JobPlanRow).where(JobPlanRow.plan_id == plan_id)
    ).all()
    after = select(PlanRow).where(PlanRow.parent == plan_id).order_by(PlanRow.number.desc())
    before = session.scalar(select(PlanRow).where(PlanRow.id == row.parent)) if row.parent else None
    return Head(
        id=row.id,
        number=row.number,
        title=row.title,
        state=PlanState(row.state),
        version=row.version,
        priority=row.priority,
        seconds=row.seconds,
        created_at=row.created_at,
        created_by=row.created_by,
        changed_at=row.changed_at,
        released_at=row.released_at,
        released_by=row.released_by or "",
        closed_by=row.closed_by or "",
        reason=row.reason,
        fault=row.fault or "",
        summary=row.summary or {},
        parent=_relative(before) if before else None,
        followers=tuple(_relative(one) for one in session.scalars(after)),
        jobs={str(name): str(identity) for name, identity in jobs},
        states={int(number): str(state) for number, state, _ in bars},
        again=frozenset(piece for _, _, pieces in bars for piece in pieces),
    )


def _relative(row: PlanRow) -> Relative:
    return Relative(row.id, row.number, row.state)
