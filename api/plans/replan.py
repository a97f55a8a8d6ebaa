"""Planning again what is not made yet: what is cut stays cut, what is open gets a new plan."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.catalogue.contents import Contents, contents, narrowed
from api.jobs.shares import settle_shares
from api.plans.bar_record import from_json
from api.plans.release import free_everything
from api.plans.service import PlanOptions, get_plan, require_state, submit
from api.plans.states import BarState, PlanState
from api.settings import Settings
from api.store.documents import DocumentKind, get_document
from api.store.models import BarRow, JobLineRow, PlanRow
from api.web.problems import Problem
from nesting.domain.material import SplitRule
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import LengthKind, PieceLine, Run
from nesting.exchange import read_plan


def withdraw(session: Session, plan_id: str, caller: Caller, now: int, *, reason: str = "") -> PlanRow:
    """
    Take a plan back: everything it has reserved is free again, what it has cut stays cut.

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
    _close(session, row, caller, now, reason)
    row.state = PlanState.WITHDRAWN.value
    session.execute(update(JobLineRow).where(JobLineRow.plan_id == plan_id).values(plan_id=None))
    return row


def replan(
    session: Session,
    plan_id: str,
    options: PlanOptions,
    caller: Caller,
    now: int,
    settings: Settings,
    *,
    reason: str = "",
) -> PlanRow:
    """
    Put everything of a released plan that is not made yet into a new plan; give the new plan.

    Ordered = done + planned + short, before and after: the open bars are given up, their pieces, the
    spoiled ones and those that were short go into the new request, on what is on the rack now.

    Parameters
    ----------
    reason
        Kept with the plan that is given up.

    Raises
    ------
    Problem
        When the plan is not released, or nothing of it is open.
    """
    row = get_plan(session, plan_id, lock=True)
    require_state(row, (PlanState.RELEASED, PlanState.IN_CUTTING), "planned again")
    document = get_document(session, plan_id, DocumentKind.RESULT)
    assert document is not None, plan_id
    plan = read_plan(document)
    wanted = _open_pieces(session, plan, plan_id)
    if not wanted:
        raise Problem(409, "nothing-open", "Every piece of the plan is made.")
    any_cut = _close(session, row, caller, now, reason)
    row.state = (PlanState.FINISHED if any_cut else PlanState.WITHDRAWN).value
    session.flush()
    request = _request(plan, wanted, contents(session))
    made = submit(session, request, options, caller, now, settings, parent=plan_id)
    session.flush()
    session.execute(update(JobLineRow).where(JobLineRow.plan_id == plan_id).values(plan_id=made.id))
    return made


def _close(session: Session, row: PlanRow, caller: Caller, now: int, reason: str) -> bool:
    """Give up what is open of a plan; tell whether any bar was cut."""
    free_everything(session, row.id, caller, now)
    bars = session.scalars(select(BarRow).where(BarRow.plan_id == row.id)).all()
    cut = []
    for bar in bars:
        bar.open_pieces = []
        if bar.state == BarState.OPEN.value:
            bar.state = BarState.WITHDRAWN.value
        elif bar.state == BarState.CUT.value:
            spoiled = frozenset((bar.report or {}).get("spoiled", ()))
            cut.append((from_json(bar.record), spoiled))
    settle_shares(session, row.id, cut)
    row.reason, row.closed_by = reason, caller.label
    row.version += 1
    row.changed_at = now
    return bool(cut)


def _open_pieces(session: Session, plan: Plan, plan_id: str) -> list[Piece]:
    names = {one.piece for one in plan.unplaced if one.piece}
    for bar in session.scalars(select(BarRow).where(BarRow.plan_id == plan_id)):
        if bar.state == BarState.OPEN.value:
            names.update(cut.piece for cut in from_json(bar.record).bar.cuts)
        else:
            names.update(bar.open_pieces)
    return [piece for piece in plan.pieces if piece.id in names]


def _request(plan: Plan, wanted: list[Piece], have: Contents) -> Request:
    """Ask for the pieces on the catalogue they were made with and the stock there is now."""
    before = plan.request
    runs, lines = [], []
    for piece in wanted:
        if piece.cover_length is None:
            lines.append(_line(piece))
        else:
            # Cut together with its cover, whose length follows from the ends: so it goes in as a run.
            runs.append(_run(piece))
    asked = replace(
        before,
        runs=tuple(runs),
        piece_lines=tuple(lines),
        # The strip was cut with the first plan; a second list would have it cut twice.
        families=tuple(replace(family, strip_pitch=None) for family in before.families),
        stock=have.stock or before.stock,
        offcuts=have.offcuts,
        findings=(),
    )
    listed = {(line.family, line.finish, line.part) for line in asked.stock}
    extra = tuple(line for line in before.stock if (line.family, line.finish, line.part) not in listed)
    return narrowed(replace(asked, stock=(*asked.stock, *extra)))


def _line(piece: Piece) -> PieceLine:
    material = piece.material
    return PieceLine(
        job=piece.job,
        id=piece.id,
        family=material.family,
        finish=material.finish,
        part=material.part,
        length=piece.length,
        lot=material.lot,
        place=piece.place,
        where=piece.where,
    )


def _run(piece: Piece) -> Run:
    material = piece.material
    return Run(
        job=piece.job,
        id=piece.id,
        family=material.family,
        finish=material.finish,
        length=piece.exact,
        kind=LengthKind.CHANNEL,
        left=piece.left,
        right=piece.right,
        split_rule=SplitRule.NEVER,
        lot=material.lot,
        place=piece.place,
        where=piece.where,
    )
