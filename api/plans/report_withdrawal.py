"""Taking a report from the saw back: metal in its place, tail off the rack, the bar open, all at once."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.events.ledger import entry_of, record
from api.jobs.shares import note_done
from api.offcuts.service import lock_offcuts, put_back, tagged_of
from api.plans.bar_record import BarRecord, from_json
from api.plans.cutting import get_bar
from api.plans.service import get_plan
from api.plans.states import BarState, PlanState
from api.stock.service import change, lock_shelves
from api.store.models import BarRow, LedgerRow, OffcutRow, PlanRow
from api.web.holders import plan_holders
from api.web.problems import Problem
from api.web.replies import Reply, digest, earlier_reply, keep_reply
from nesting.stockroom import rack
from nesting.stockroom.ledger import Kind, countered
from nesting.stockroom.shelves import Shelf, ShelfMove, Taken, give_bar_back
from nesting.stockroom.states import State, StockConflict

_SINCE = {
    Kind.COUNT: "counted",
    Kind.MEASURE: "measured anew",
    Kind.CORRECT: "corrected",
    Kind.RESTORE: "put back",
    Kind.FIND: "found again",
}
_REPORTED = (BarState.CUT, BarState.DEFECT, BarState.MISSING)


def withdraw_report_once(
    session: Session, plan_id: str, number: int, reason: str, key: str | None, caller: Caller, now: int
) -> BarRow:
    """
    Take the report on a bar back, or, when the same request has done so before, show the bar.

    Parameters
    ----------
    key
        Idempotency key of the request.

    Raises
    ------
    Problem
        When there is nothing to take back, others have gone on from it, or the key was used otherwise.
    """
    asked = digest("withdraw report", plan_id, str(number), reason)
    if earlier_reply(session, caller.id, key, asked):
        return get_bar(session, plan_id, number)
    row = withdraw_report(session, plan_id, number, reason, caller, now)
    keep_reply(session, caller.id, key, asked, Reply(200, number), now)
    return row


def withdraw_report(
    session: Session, plan_id: str, number: int, reason: str, caller: Caller, now: int
) -> BarRow:
    """
    Take the report on a bar back: it is to be cut as if nothing had been said of it.

    The ledger keeps what was reported and gets entries that put it back. What was born of the bar is off
    the rack; its tags are this bar's for good, and a new report gives them to it again.

    Raises
    ------
    Problem
        When nothing was reported, the plan was withdrawn or planned again, an earlier plan has cut the
        bar, or something has become of what was born or set aside.
    """
    plan = get_plan(session, plan_id, lock=True)
    row = get_bar(session, plan_id, number)
    made = from_json(row.record)
    _require_reported(session, plan, row, made)
    written = _written(session, row)
    try:
        _offcuts_back(session, row, made, max(one.id for one in written), now)
        _bars_back(session, row, made, reason, caller, now)
    except StockConflict as why:
        raise _stands_in_the_way(session, number, why) from why
    record(session, countered((entry_of(one) for one in written), reason=reason), caller.label, now)
    if row.state == BarState.CUT.value:
        note_done(session, plan_id, made, frozenset((row.report or {}).get("spoiled", ())), withdrawn=True)
    row.state, row.report, row.open_pieces = BarState.OPEN.value, None, []
    row.reported_at = row.reported_by = row.born = None
    session.flush()
    plan.state = (PlanState.IN_CUTTING if _any_reported(session, plan_id) else PlanState.RELEASED).value
    plan.version += 1
    plan.changed_at = now
    session.flush()
    return row


def last_withdrawals(session: Session, plan_id: str) -> dict[int, LedgerRow]:
    """Give by number, of every bar with a report taken back, the entry under which the last one was."""
    query = select(LedgerRow).where(LedgerRow.plan_id == plan_id, LedgerRow.kind == Kind.WITHDRAW.value)
    # The last one stands: it is read last.
    return {row.bar: row for row in session.scalars(query.order_by(LedgerRow.id)) if row.bar is not None}


def may_be_withdrawn(session: Session, row: BarRow) -> bool:
    """Whether a report can be taken back as plan and bar stand; what was born may still forbid it."""
    if BarState(row.state) not in _REPORTED:
        return False
    try:
        _require_reported(session, get_plan(session, row.plan_id), row, from_json(row.record))
    except Problem:
        return False
    return True


def _require_reported(session: Session, plan: PlanRow, row: BarRow, made: BarRecord) -> None:
    query = select(PlanRow.number).where(PlanRow.parent == plan.id).order_by(PlanRow.number)
    follower = session.scalars(query.limit(1)).first()
    where = None
    if follower is not None:
        where = f"plan P{plan.number} was planned again as P{follower}, which goes on from what was reported"
    elif plan.state == PlanState.WITHDRAWN.value:
        where = f"plan P{plan.number} is withdrawn"
    elif made.bar.state.cut:
        where = "it was cut under an earlier plan, from which this one goes on"
    if where:
        raise Problem(409, "wrong-state", f"What was reported of bar {row.number} stands: {where}.")
    if BarState(row.state) not in _REPORTED:
        raise Problem(409, "not-reported", f"Nothing is reported of bar {row.number}; it is {row.state}.")


def _written(session: Session, row: BarRow) -> list[LedgerRow]:
    """Give what the report has written into the ledger: all of the bar since a report was last taken back."""
    query = select(LedgerRow).where(LedgerRow.plan_id == row.plan_id, LedgerRow.bar == row.number)
    before = last_withdrawals(session, row.plan_id).get(row.number)
    if before is not None:
        query = query.where(LedgerRow.id > before.id)
    return list(session.scalars(query.order_by(LedgerRow.id)))


def _offcuts_back(session: Session, row: BarRow, made: BarRecord, written: int, now: int) -> None:
    """Take what was born off the rack, and give the plan back the offcut that it was to cut."""
    was = {BarState.CUT: State.CUT, BarState.DEFECT: State.QUARANTINED}.get(BarState(row.state), State.LOST)
    for tag, found in lock_offcuts(session, _tags(row)).items():
        tagged = tagged_of(found)
        _require_untouched(session, found, written)
        if tag == row.source:
            put_back(found, rack.give_back(tagged, row.plan_id, was), now)
        else:
            short = tag in (row.report or {}).get("short", ())
            put_back(found, rack.withdraw(tagged, short=short), now)


def _tags(row: BarRow) -> Iterator[str]:
    yield from (tag for tag in (row.source, row.born) if tag)
    yield from (row.report or {}).get("kept", {}).values()


def _require_untouched(session: Session, found: OffcutRow, written: int) -> None:
    """Refuse an offcut somebody has had in hand since; reserved and given back it is what it was."""
    harmless = (Kind.RESERVE.value, Kind.FREE.value)
    query = select(LedgerRow).where(
        LedgerRow.thing == found.tag, LedgerRow.id > written, LedgerRow.kind.not_in(harmless)
    )
    since = session.scalars(query.order_by(LedgerRow.id.desc()).limit(1)).first()
    if since is not None:
        what = _SINCE.get(Kind(since.kind))
        state = f"{what} since, by {since.by}" if what else found.state
        raise StockConflict(found.tag, state, plan=found.plan_id or "")


def _bars_back(session: Session, row: BarRow, made: BarRecord, reason: str, caller: Caller, now: int) -> None:
    said = row.report or {}
    cut = row.state == BarState.CUT.value
    wanted = {"bar": made.shelf, "cover": made.cover_shelf if cut else ""}
    locked = lock_shelves(session, {shelf for shelf in wanted.values() if shelf})
    for name, shelf_id in wanted.items():
        if not shelf_id:
            continue
        # One that was reported before this was noted had better be kept for the plan than be lost to it.
        taken = Taken(said.get("taken", {}).get(name, Taken.RESERVED))
        aside = row.state == BarState.DEFECT.value

        def do(shelf: Shelf, taken: Taken = taken, aside: bool = aside) -> ShelfMove:
            return give_bar_back(shelf, row.plan_id, row.number, taken, set_aside=aside, reason=reason)

        change(session, locked[shelf_id], do, caller.label, now)


def _any_reported(session: Session, plan_id: str) -> bool:
    """Whether anything is reported of a plan's own bars; those an earlier plan has cut are not its own."""
    states = [state.value for state in _REPORTED]
    rows = session.scalars(select(BarRow).where(BarRow.plan_id == plan_id, BarRow.state.in_(states)))
    return any(not from_json(row.record).bar.state.cut for row in rows)


def _stands_in_the_way(session: Session, number: int, why: StockConflict) -> Problem:
    holder = plan_holders(session, [why.plan]).get(why.plan)
    by = f" by {holder.words}" if holder else ""
    detail = f"What was reported of bar {number} stands: {why.thing} is {why.state}{by}."
    conflict = {
        "thing": why.thing,
        "state": why.state,
        "plan": why.plan,
        "holder": holder.by if holder else "",
    }
    return Problem(409, "stock-conflict", detail, conflicts=[conflict])
