"""Reports from the saw, one bar at a time: metal out, tail in, spoiled pieces open again, all at once."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.events.ledger import record
from api.jobs.shares import followed, note_done
from api.offcuts.service import get_offcut, new_row, put_back, tagged_of
from api.plans.bar_record import BarRecord, from_json
from api.plans.release import free_everything
from api.plans.service import get_plan
from api.plans.states import BarState, PlanState
from api.stock.service import change, get_shelf
from api.store.documents import DocumentKind, get_document
from api.store.models import BarRow, OffcutRow, PlanRow
from api.web.problems import Problem, not_found
from nesting.domain.mitre import SQUARE
from nesting.domain.stock import EndState, Offcut
from nesting.exchange import read_plan
from nesting.reports.whereabouts import bars_in_order
from nesting.stockroom import rack, shelves
from nesting.stockroom.cutting import (
    CutReport,
    cut_bar,
    cut_cover,
    keep_spoiled,
    not_made,
    open_again,
    use_up,
)
from nesting.stockroom.ledger import Entry
from nesting.stockroom.rack import Tagged
from nesting.stockroom.shelves import Shelf, ShelfMove
from nesting.stockroom.states import State

_FOUND = ("kept", "short", "taken")
"""What is kept with a report beside its own words."""


class Outcome(StrEnum):
    """
    What became of a bar: cut, set aside for a defect, or not found.

    One that has a defect counts as cut when pieces of it are made or something of its rest is good.
    """

    CUT = "cut"
    DEFECT = "defect"
    MISSING = "missing"


def report_bar(
    session: Session,
    plan_id: str,
    number: int,
    outcome: Outcome,
    report: CutReport,
    words: dict[str, Any],
    caller: Caller,
    now: int,
) -> tuple[PlanRow, BarRow]:
    """
    Take in what the saw says of one bar; saying the same again changes nothing.

    Parameters
    ----------
    words
        The report as it was sent, kept with the bar.

    Raises
    ------
    Problem
        When there is no such bar to report on, or something else was reported before.
    ReportNotPossible
        When the bar's own length contradicts the report.
    StockConflict
        When the bar is not this plan's any more.
    """
    plan = get_plan(session, plan_id, lock=True)
    row = get_bar(session, plan_id, number)
    made = from_json(row.record)
    if report.made is not None:
        # Whoever reads the bar later finds what must be made again where spoiled pieces stand.
        report = replace(report, spoiled=not_made(made.bar, report))
        words = words | {"spoiled": list(report.spoiled)}
    if row.state != BarState.OPEN.value:
        if {key: said for key, said in (row.report or {}).items() if key not in _FOUND} == words:
            return plan, row
        raise Problem(409, "bar-reported", _already(row))
    if not PlanState(plan.state).released_before:
        raise Problem(409, "wrong-state", f"The plan is {plan.state}; only a released one is cut.")
    if outcome is Outcome.CUT or report.made is not None:
        born, entries, taken = _cut(session, plan, made, report, caller, now)
        if born:
            _put_on_rack(session, Tagged(offcut=born), plan_id, number, now)
            row.born = born.tag
        record(session, entries, caller.label, now)
        words = words | _keep_spoiled(session, plan, made, report, caller, now)
        row.open_pieces = list(open_again(made.bar, report.spoiled, cut=True))
        note_done(session, plan_id, made, frozenset(report.spoiled))
    else:
        reason = str(words.get("note", "")) or outcome.value
        taken = _set_aside(session, plan_id, made, outcome, caller, reason, now)
        row.open_pieces = list(open_again(made.bar, (), cut=False))
    row.state = (BarState.CUT if report.made is not None else BarState(outcome)).value
    row.report = words | ({"taken": taken} if taken else {})
    row.reported_at, row.reported_by = now, caller.label
    plan.state = PlanState.IN_CUTTING.value
    plan.version += 1
    plan.changed_at = now
    session.flush()
    finish_if_done(session, plan, caller, now)
    return plan, row


def _already(row: BarRow) -> str:
    if row.state == BarState.WITHDRAWN.value:
        return f"Bar {row.number} is not cut any more: the plan was withdrawn, or planned again."
    return f"Bar {row.number} is reported as {row.state} already, by {row.reported_by}."


def get_bar(session: Session, plan_id: str, number: int) -> BarRow:
    """
    Give a bar of a released plan.

    Raises
    ------
    Problem
        When the plan has no such bar, or none yet.
    """
    row = session.get(BarRow, (plan_id, number))
    if row is None:
        raise not_found(f"bar {number} of plan {plan_id}; a plan has bars once it is released")
    return row


def bars_in_turn(session: Session, plan: PlanRow) -> list[int]:
    """
    Give the numbers of a released plan's bars in the order in which they are cut.

    A first plan numbers its bars so; one that goes on from another keeps numbers and may change the order.
    """
    query = select(BarRow.number).where(BarRow.plan_id == plan.id).order_by(BarRow.number)
    numbers = list(session.scalars(query))
    document = get_document(session, plan.id, DocumentKind.RESULT) if numbers and plan.parent else None
    if document is None:
        return numbers
    there = set(numbers)
    return [bar.number for _, bar in bars_in_order(read_plan(document)) if bar.number in there]


def finish_if_done(session: Session, plan: PlanRow, caller: Caller, now: int) -> None:
    """Call a plan finished when every bar is reported and no piece is open, and free what is left over."""
    open_bars = session.execute(
        select(func.count())
        .select_from(BarRow)
        .where(BarRow.plan_id == plan.id, BarRow.state == BarState.OPEN.value)
    ).scalar_one()
    if open_bars:
        return
    rows = session.scalars(select(BarRow.open_pieces).where(BarRow.plan_id == plan.id))
    if not any(rows):
        plan.state = PlanState.FINISHED.value
        free_everything(session, plan.id, caller, now)


def _cut(
    session: Session, plan: PlanRow, made: BarRecord, report: CutReport, caller: Caller, now: int
) -> tuple[Offcut | None, list[Entry], dict[str, str]]:
    bar = made.bar
    entries: list[Entry] = []
    taken: dict[str, str] = {}
    if bar.offcut:
        row = get_offcut(session, bar.source, lock=True)
        put_back(row, use_up(tagged_of(row), plan.id), now)
        thing = bar.source
    else:
        thing, taken["bar"] = _take(session, plan.id, made.shelf, caller, now)
    tag = _unused(session, bar.tail_tag or f"P{plan.number}-{bar.number}", plan.id, made)
    done = cut_bar(bar, made.material, made.saw, report, thing=thing, plan=plan.id, tag=tag)
    entries.extend(done.entries)
    if made.cover_shelf:
        cover, taken["cover"] = _take(session, plan.id, made.cover_shelf, caller, now)
        kept = done.born is not None
        entries.append(cut_cover(bar, report, made.covers, thing=cover, plan=plan.id, kept=kept))
    return done.born, entries, taken


def _keep_spoiled(
    session: Session, plan: PlanRow, made: BarRecord, report: CutReport, caller: Caller, now: int
) -> dict[str, Any]:
    """Tag what came out of spoiled pieces; give the tag of each, and those that are too short to keep."""
    bar = made.bar
    ends = {cut.piece: (_face(cut.slope_start), _face(cut.slope_end)) for cut in bar.cuts}
    tags: dict[str, str] = {}
    short: list[str] = []
    for count, (piece, length) in enumerate(report.came_out, 1):
        tag = _unused(session, f"P{plan.number}-{bar.number}S{count}", plan.id, made)
        move = keep_spoiled(
            bar, made.material, piece, length, saw=made.saw, ends=ends[piece], plan=plan.id, tag=tag
        )
        _put_on_rack(session, move.after, plan.id, bar.number, now)
        record(session, [move.entry], caller.label, now)
        tags[piece] = tag
        short += [] if move.after.state.held else [tag]
    found = {"kept": tags, "short": short}
    return {name: said for name, said in found.items() if said}


def _face(slope: Fraction) -> EndState:
    return EndState.RAW if slope != SQUARE else EndState.CLEAN


def _take(session: Session, plan_id: str, shelf_id: str, caller: Caller, now: int) -> tuple[str, str]:
    """Take a bar; give its shelf's key and which one it was, for whoever takes the report back."""
    found = get_shelf(session, shelf_id, lock=True)
    which = shelves.next_taken(found.shelf, plan_id)
    taken = change(session, found, lambda shelf: shelves.take_bar(shelf, plan_id), caller.label, now)
    return taken.shelf.key, which.value


def _unused(session: Session, tag: str, plan_id: str, made: BarRecord) -> str:
    """
    Give the tag, with a letter behind it if somebody has brought one of that name from elsewhere.

    The tag that the same bar had under a report taken back is its own still: it may be written on its tail.
    """
    for letter in ["", *list("bcdefghjkmnp")]:
        row = session.get(OffcutRow, tag + letter)
        if row is None or _own_again(session, row, plan_id, made):
            return tag + letter
    raise Problem(409, "tag-used", f"The tag {tag} and its variants have all been used.")


def _own_again(session: Session, row: OffcutRow, plan_id: str, made: BarRecord) -> bool:
    """Whether an offcut is of a report on the same bar that was taken back, under this plan or one before."""
    if row.state != State.WITHDRAWN.value or row.born_bar != made.bar.number:
        return False
    material = made.material
    if (row.family, row.finish, row.part) != (material.family, material.finish, material.part.value):
        return False
    return row.born_plan == plan_id or row.born_plan in followed(session, plan_id)


def _put_on_rack(session: Session, born: Tagged, plan_id: str, number: int, now: int) -> None:
    """Put what a bar gave on the rack, under a tag that is new or was this bar's before."""
    row = session.get(OffcutRow, born.offcut.tag, with_for_update=True)
    if row is None:
        session.add(new_row(born, now, plan=plan_id, bar=number))
        return
    put_back(row, born, now)
    row.born_plan, row.born_bar, row.born_at = plan_id, number, now


def _set_aside(
    session: Session,
    plan_id: str,
    made: BarRecord,
    outcome: Outcome,
    caller: Caller,
    reason: str,
    now: int,
) -> dict[str, str]:
    number = made.bar.number
    if made.bar.offcut:
        row = get_offcut(session, made.bar.source, lock=True)
        rack.require_reserved(tagged_of(row), plan_id)
        act = rack.quarantine if outcome is Outcome.DEFECT else rack.lose
        move = act(tagged_of(row), reason=reason, plan=plan_id, bar=number)
        put_back(row, move.after, now)
        record(session, [move.entry], caller.label, now)
        return {}
    take = shelves.quarantine_plans_bar if outcome is Outcome.DEFECT else shelves.lose_plans_bar

    def do(shelf: Shelf) -> ShelfMove:
        return take(shelf, plan_id, number, reason=reason)

    found = get_shelf(session, made.shelf, lock=True)
    which = shelves.next_taken(found.shelf, plan_id)
    change(session, found, do, caller.label, now)
    return {"bar": which.value}
