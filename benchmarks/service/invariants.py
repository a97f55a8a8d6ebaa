"""What must be true of the service's database after anything at all has happened to the service."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.events.balance import balance_now
from api.events.ledger import entry_of
from api.plans.bar_record import from_json
from api.plans.states import BarState, PlanState
from api.stock.service import shelved
from api.store.engine import Store
from api.store.models import BarRow, DocumentRow, HoldRow, LedgerRow, OffcutRow, PlanRow, ShelfRow
from nesting.stockroom.ledger import Kind, held_by_thing
from nesting.stockroom.states import State
from nesting.units import Unit

_WITH_RESULT = tuple(
    state.value
    for state in PlanState
    if state in (PlanState.PROPOSED, PlanState.RELEASED, PlanState.IN_CUTTING, PlanState.FINISHED)
)


def broken(store: Store, accepted: frozenset[str] = frozenset()) -> list[str]:
    """
    Give every promise that is broken, in words; none when all is well.

    Parameters
    ----------
    accepted
        Ids of the plans the service has answered for.
    """
    with store.read_one_moment() as session:
        return [
            *_plans(session, accepted),
            *_reservations(session),
            *_bars(session),
            *_ledger(session),
        ]


def _plans(session: Session, accepted: frozenset[str]) -> Iterator[str]:
    states = {row.id: row.state for row in session.scalars(select(PlanRow))}
    for plan in sorted(accepted - states.keys()):
        yield f"plan {plan} was accepted and is gone"
    kinds = Counter(
        (plan, kind) for plan, kind in session.execute(select(DocumentRow.plan_id, DocumentRow.kind))
    )
    for plan, state in states.items():
        if kinds[plan, "request"] != 1:
            yield f"plan {plan} has lost its request"
        if state in _WITH_RESULT and kinds[plan, "result"] != 1:
            yield f"plan {plan} is {state} and has no result"


def _reservations(session: Session) -> Iterator[str]:
    states = dict(iter(session.execute(select(PlanRow.id, PlanRow.state))))
    alive = (PlanState.RELEASED.value, PlanState.IN_CUTTING.value)
    for row in session.scalars(select(OffcutRow).where(OffcutRow.state == State.RESERVED.value)):
        state = states.get(row.plan_id or "", "not there")
        if state not in alive:
            yield f"offcut {row.tag} is reserved by plan {row.plan_id}, which is {state}"
    needed, tags = _to_be_cut(session)
    for hold in session.scalars(select(HoldRow)):
        if states[hold.plan_id] not in alive:
            yield f"bars are reserved by plan {hold.plan_id}, which is {states[hold.plan_id]}"
        if hold.bars > needed[hold.plan_id, hold.shelf_id]:
            yield (
                f"plan {hold.plan_id} has {hold.bars} bars of shelf {hold.shelf_id} reserved and "
                f"{needed[hold.plan_id, hold.shelf_id]} to cut"
            )
    for row in session.scalars(select(OffcutRow).where(OffcutRow.state == State.RESERVED.value)):
        if (row.plan_id, row.tag) not in tags:
            yield f"offcut {row.tag} is reserved by plan {row.plan_id}, which has no bar to cut of it"


def _to_be_cut(session: Session) -> tuple[Counter[tuple[str, str]], set[tuple[str | None, str]]]:
    """Count the bars that open bars of plans need of each shelf, and list the tags that they need."""
    bars: Counter[tuple[str, str]] = Counter()
    tags: set[tuple[str | None, str]] = set()
    for row in session.scalars(select(BarRow).where(BarRow.state == BarState.OPEN.value)):
        made = from_json(row.record)
        bars.update((row.plan_id, shelf) for shelf in (made.shelf, made.cover_shelf) if shelf)
        if row.source:
            tags.add((row.plan_id, row.source))
    return bars, tags


def _bars(session: Session) -> Iterator[str]:
    open_tags = Counter(
        row.source
        for row in session.scalars(select(BarRow).where(BarRow.state == BarState.OPEN.value))
        if row.source
    )
    for tag, times in open_tags.items():
        if times > 1:
            yield f"offcut {tag} is to be cut for {times} plans"
        if session.get_one(OffcutRow, tag).state != State.RESERVED.value:
            yield f"offcut {tag} is to be cut and is not reserved"
    cuts: Counter[tuple[str | None, int | None, str]] = Counter()
    kinds = (Kind.CUT.value, Kind.WITHDRAW.value)
    for entry in session.scalars(select(LedgerRow).where(LedgerRow.kind.in_(kinds)).order_by(LedgerRow.id)):
        taken = (entry.plan_id, entry.bar, entry.thing)
        if entry.kind == Kind.CUT.value:
            cuts[taken] += 1
        else:
            cuts.pop(taken, None)  # its report was taken back
    for (plan, bar, thing), times in cuts.items():
        if times > 1:
            yield f"bar {bar} of plan {plan} was taken from {thing} {times} times"
    cut_bars = {(plan, bar) for plan, bar, _ in cuts}
    for row in session.scalars(select(BarRow)):
        if from_json(row.record).bar.state.cut:
            continue  # an earlier plan has cut it, and the ledger says so there
        if (row.state == BarState.CUT.value) != ((row.plan_id, row.number) in cut_bars):
            yield f"bar {row.number} of plan {row.plan_id} is {row.state}, and the ledger disagrees"


def _ledger(session: Session) -> Iterator[str]:
    if not balance_now(session, Unit.MM).balanced:
        yield "the ledger does not balance"
    replayed = held_by_thing(entry_of(row) for row in session.scalars(select(LedgerRow)))
    kept = [state.value for state in State if state.held]
    held = {
        row.tag: row.length for row in session.scalars(select(OffcutRow).where(OffcutRow.state.in_(kept)))
    }
    for one in shelved(session, session.scalars(select(ShelfRow)).all()):
        if one.shelf.on_hand:
            held[one.shelf.key] = one.shelf.on_hand * one.shelf.length
    for thing in sorted(held.keys() | replayed.keys()):
        if held.get(thing, 0) != replayed.get(thing, 0):
            yield f"{thing} holds {held.get(thing, 0)} nm, by the ledger {replayed.get(thing, 0)} nm"
