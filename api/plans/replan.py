"""Planning again what is not made yet: what is cut stays cut, what is open gets a new plan."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.jobs.shares import settle_shares
from api.plans.bar_record import from_json
from api.plans.release import free_everything
from api.plans.service import PlanOptions, get_plan, require_state, submit
from api.plans.shop_report import anything_open, what_the_shop_said
from api.plans.states import BarState, PlanState
from api.plans.what_is_left import on_what_is_left
from api.processes.follow import Follow, write_follow
from api.settings import Settings
from api.store.documents import DocumentKind, get_document, put_document
from api.store.models import BarRow, JobLineRow, JobRow, PlanRow
from api.web.problems import Problem
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.exchange import read_plan


def withdraw(session: Session, plan_id: str, caller: Caller, now: int, *, reason: str = "") -> PlanRow:
    """
    Take a plan back: everything it has reserved is free again, what it has cut stays cut.

    Its jobs' lines wait again, as long as nothing of them was cut: those of which something was are
    planned again with this plan, so that nothing is cut twice.

    Parameters
    ----------
    reason
        Kept with the plan, for whoever looks for it later.

    Raises
    ------
    Problem
        When it is finished, failed or withdrawn already.
    """
    row = get_plan(session, plan_id, lock=True)
    allowed = tuple(
        state
        for state in PlanState
        if state not in (PlanState.FINISHED, PlanState.FAILED, PlanState.WITHDRAWN)
    )
    require_state(row, allowed, "withdrawn")
    begun = begun_lines(session, plan_id)
    _close(session, row, caller, now, reason)
    row.state = PlanState.WITHDRAWN.value
    lines = select(JobLineRow, JobRow.name).join(JobRow).where(JobLineRow.plan_id == plan_id)
    for line, job in session.execute(lines).all():
        if (job, line.line) not in begun:
            line.plan_id = None
    return row


def begun_lines(session: Session, plan_id: str) -> set[tuple[str, str]]:
    """Give job and id of the runs and piece lines of which the saw has cut something good."""
    begun: set[tuple[str, str]] = set()
    document = get_document(session, plan_id, DocumentKind.RESULT)
    if document is None:
        return begun
    cut = set(
        session.scalars(
            select(BarRow.number).where(BarRow.plan_id == plan_id, BarRow.state == BarState.CUT.value)
        )
    )
    plan = read_plan(document)
    pieces = {piece.id: piece for piece in plan.pieces}
    for group in plan.groups:
        for bar in group.bars:
            if bar.number in cut or bar.state.cut:
                begun.update((pieces[one.piece].job, pieces[one.piece].run) for one in bar.good_cuts)
    return begun


def replan(
    session: Session,
    plan_id: str,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
    *,
    reason: str = "",
    frozen: Collection[int] = (),
    freely: bool = False,
) -> PlanRow:
    """
    Have a released plan gone on from where it stands, with as little change as it can; give the new plan.

    Ordered = done + planned + short, before and after. What is cut stays cut and what is frozen stays as
    it is; spoiled pieces, those of bars that were not there and those that were short find room in spoiled
    pieces, offcuts, tails of open bars and then new bars. The old plan gives its open bars up.

    Parameters
    ----------
    reason
        Kept with the plan that is given up.
    frozen
        Numbers of bars still to be cut that must not change, say because they lie on the saw.
    freely
        Whether all open bars may be planned afresh where that costs less.

    Raises
    ------
    Problem
        When the plan is not released, or nothing of it is open, or a frozen bar is none of its open ones.
    """
    row = get_plan(session, plan_id, lock=True)
    require_state(row, (PlanState.RELEASED, PlanState.IN_CUTTING), "planned again")
    _require_open(session, plan_id, frozen)
    follow = what_the_shop_said(session, plan_id, result_of(session, plan_id), frozen=frozen, freely=freely)
    if not anything_open(follow):
        raise Problem(409, "nothing-open", "Every piece of the plan is made.")
    any_cut = _close(session, row, caller, now, reason)
    row.state = (PlanState.FINISHED if any_cut else PlanState.WITHDRAWN).value
    session.flush()
    return go_on(session, follow, options, caller, now, settings, parent=plan_id)


def go_on(
    session: Session,
    follow: Follow,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
    *,
    parent: str,
) -> PlanRow:
    """Put a plan that goes on from another one into the queue, on the rack and the bars there are now."""
    left = on_what_is_left(session, follow)
    made = submit(session, left.before.request, options, caller, now, settings, parent=parent)
    put_document(session, made.id, DocumentKind.FOLLOWS, write_follow(left))
    session.flush()
    session.execute(update(JobLineRow).where(JobLineRow.plan_id == parent).values(plan_id=made.id))
    take_waiting_lines(session, left.before.request, made.id)
    return made


def take_waiting_lines(session: Session, request: Request, plan_id: str) -> None:
    """Put the lines of a request that wait into its plan: withdrawn with an earlier one, they come back."""
    wanted = {(run.job, run.id) for run in request.runs} | {
        (line.job, line.id) for line in request.piece_lines
    }
    jobs = {job for job, _ in wanted}
    waiting = (
        select(JobLineRow, JobRow.name)
        .join(JobRow)
        .where(JobRow.name.in_(jobs), JobLineRow.plan_id.is_(None))
        .with_for_update(of=JobLineRow)
    )
    for line, job in session.execute(waiting).all():
        if (job, line.line) in wanted:
            line.plan_id = plan_id


def any_cut(session: Session, plan_id: str) -> bool:
    """Whether the saw has cut a bar of a plan, or of a plan that it goes on from."""
    return (
        session.execute(
            select(BarRow.number)
            .where(BarRow.plan_id == plan_id, BarRow.state == BarState.CUT.value)
            .limit(1)
        ).first()
        is not None
    )


def result_of(session: Session, plan_id: str) -> Plan:
    """Give the result of a plan that has one."""
    document = get_document(session, plan_id, DocumentKind.RESULT)
    assert document is not None, plan_id
    return read_plan(document)


def _require_open(session: Session, plan_id: str, frozen: Collection[int]) -> None:
    there = set(
        session.scalars(
            select(BarRow.number).where(BarRow.plan_id == plan_id, BarRow.state == BarState.OPEN.value)
        )
    )
    strange = sorted(set(frozen) - there)
    if strange:
        raise Problem(422, "bar-not-open", f"Bar {strange[0]} is none of the plan's open bars.")


def _close(session: Session, row: PlanRow, caller: Caller, now: int, reason: str) -> bool:
    """Give up what is open of a plan; tell whether any bar was cut of it."""
    free_everything(session, row.id, caller, now)
    bars = session.scalars(select(BarRow).where(BarRow.plan_id == row.id)).all()
    cut = []
    for bar in bars:
        bar.open_pieces = []
        if bar.state == BarState.OPEN.value:
            bar.state = BarState.WITHDRAWN.value
        elif bar.state == BarState.CUT.value:
            made = from_json(bar.record)
            if not made.bar.state.cut:  # else an earlier plan has cut it, and its shares are there
                cut.append((made, frozenset((bar.report or {}).get("spoiled", ()))))
    settle_shares(session, row.id, cut)
    row.reason, row.closed_by = reason, caller.label
    row.version += 1
    row.changed_at = now
    return bool(cut)
