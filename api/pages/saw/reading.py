"""A plan at the saw as the store has it: its bars' states, and what one sheet needs beside the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.pages.results import result_of
from api.pages.saw.outcome import result_of_bar
from api.pages.saw.sheet import Sheet, Sheets, Source
from api.pages.visit import Visit
from api.plans.cutting import get_bar
from api.plans.report_withdrawal import last_withdrawals, may_be_withdrawn
from api.plans.service import get_plan
from api.plans.states import BarState, PlanState
from api.plans.succession import Relative, successors
from api.store.models import BarRow, OffcutRow
from api.web.problems import Problem
from nesting.domain.plan import Plan
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import bars_in_order


@dataclass(frozen=True, slots=True, kw_only=True)
class AtSaw:
    """
    A plan whose bars are cut.

    Parameters
    ----------
    states
        State of each bar by its number, in the order in which they are cut.
    successor
        The plan that has taken this one's place, when it was planned again.
    """

    id: str
    number: int
    title: str
    state: PlanState
    plan: Plan
    lengths: BothUnits
    states: Mapping[int, BarState]
    successor: Relative | None = None

    @property
    def reported(self) -> int:
        """Number of bars that somebody has reported on."""
        return sum(state not in (BarState.OPEN, BarState.WITHDRAWN) for state in self.states.values())

    def next_open(self, number: int) -> int | None:
        """Give the next bar to cut behind one (0: the first), or one left out before; None when none is."""
        turn = list(self.states)
        at = turn.index(number) if number in self.states else -1
        behind = (*turn[at + 1 :], *turn[: max(at, 0)])
        return next((bar for bar in behind if self.states[bar] is BarState.OPEN), None)


def plan_at_saw(visit: Visit, session: Session, plan_id: str) -> AtSaw:
    """
    Give a plan whose bars are cut.

    Raises
    ------
    Problem
        When there is no such plan, or it has not been released.
    """
    row = get_plan(session, plan_id)
    states = _states(session, plan_id)
    plan = result_of(visit.service.store, plan_id) if states else None
    if plan is None:
        detail = f"Plan P{row.number} is {row.state}; its bars can be cut once it is released."
        raise Problem(409, "not-released", detail, title="Not released")
    return AtSaw(
        id=row.id,
        number=row.number,
        title=row.title,
        state=PlanState(row.state),
        plan=plan,
        lengths=_lengths(visit, plan),
        # A plan that follows another one may cut its bars in another order than that of their numbers.
        states={bar.number: states[bar.number] for _, bar in bars_in_order(plan) if bar.number in states},
        successor=successors(session, [plan_id]).get(plan_id),
    )


def read_sheets(session: Session, at: AtSaw, numbers: Iterable[int]) -> Iterator[Sheet]:
    """
    Give the sheets of some bars.

    Raises
    ------
    Problem
        When the plan has no such bar.
    """
    sheets, withdrawn = Sheets(at.plan, at.lengths), last_withdrawals(session, at.id)
    for number in numbers:
        row = get_bar(session, at.id, number)
        taken = session.get(OffcutRow, row.source) if row.source else None
        born = session.get(OffcutRow, row.born) if row.born else None
        source = Source(row.source, taken.place if taken else "", taken.lot if taken else "")
        result = result_of_bar(
            row,
            born,
            at.lengths,
            may_go_back=may_be_withdrawn(session, row),
            withdrawn=withdrawn.get(number),
        )
        yield sheets.sheet(number, source, result)


def _states(session: Session, plan_id: str) -> dict[int, BarState]:
    query = select(BarRow.number, BarRow.state).where(BarRow.plan_id == plan_id)
    return {number: BarState(state) for number, state in session.execute(query)}


def _lengths(visit: Visit, plan: Plan) -> BothUnits:
    """Give the printer in the reader's unit, or in the plan's own where none was chosen."""
    return visit.lengths if visit.preferences.unit else BothUnits.of(plan)
