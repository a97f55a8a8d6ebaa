"""Releasing a plan: everything it needs becomes its own at once, or nothing does."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.events.ledger import record
from api.jobs.shares import followed
from api.offcuts.service import lock_offcuts, put_back, same_to_cut, tagged_of
from api.offcuts.short import SHORT, short_at_saw, too_short
from api.plans.bar_costs import bar_costs
from api.plans.bar_record import bar_record, to_json
from api.plans.service import get_plan, require_state
from api.plans.states import BarState, PlanState
from api.stock.currency import shop_currencies
from api.stock.service import Material, change, find_shelf, lock_shelves, new_shelf
from api.stock.terms import keep_terms
from api.store.documents import DocumentKind, get_document
from api.store.models import BarRow, HoldRow, OffcutRow, PlanRow
from api.web.holders import plan_holders
from api.web.problems import Problem
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.stock import StockLine
from nesting.exchange import read_plan
from nesting.planning.group import stock_index
from nesting.planning.purchase import covers_listed
from nesting.stockroom import rack
from nesting.stockroom.shelves import Shelf, ShelfMove, free_bars, reserve_bars
from nesting.stockroom.states import State, StockConflict

Conflict = dict[str, str]
NOT_HERE = "not on this rack"


def release(session: Session, plan_id: str, caller: Caller, now: int) -> PlanRow:
    """
    Reserve every offcut and bar of a proposed plan for it, in this transaction.

    Raises
    ------
    Problem
        When the plan is not proposed, or anything it needs is not there; it names who has what.
    """
    row = get_plan(session, plan_id, lock=True)
    require_state(row, (PlanState.PROPOSED,), "released")
    document = get_document(session, plan_id, DocumentKind.RESULT)
    assert document is not None, plan_id
    plan = read_plan(document)
    conflicts = _reserve_offcuts(session, plan, plan_id, caller, now)
    shelf_of, short = _reserve_bars(session, plan, plan_id, caller, now)
    if conflicts or short:
        missing = [*conflicts, *short]
        holders = plan_holders(session, {one["plan"] for one in missing})
        first = missing[0]
        detail = f"{len(missing)} thing(s) the plan needs are not there; {first['thing']} is {first['state']}"
        detail += f" by {holders[first['plan']].words}." if first["plan"] in holders else "."
        if any(one["state"] == NOT_HERE for one in missing):
            detail += " What is not on this rack came with the list: put it there, then release."
        named = [
            {**one, "holder": holders[one["plan"]].by if one["plan"] in holders else ""} for one in missing
        ]
        raise Problem(409, "stock-conflict", detail, conflicts=named)
    _add_bars(session, row, plan, shelf_of)
    row.state, row.released_by, row.released_at = PlanState.RELEASED.value, caller.label, now
    row.version += 1
    row.changed_at = now
    return row


def needed_bars(plan: Plan) -> Iterator[tuple[GroupPlan, PlannedBar, StockLine, StockLine | None]]:
    """Give every new bar still to be cut with its stock line, and the cover's that is cut along."""
    for group in plan.groups:
        material = group.material
        covers = covers_listed(plan.request, material.family, material.finish) if group.cover_follows else ()
        for bar in group.bars:
            index = stock_index(bar.source)
            if bar.offcut or index is None or bar.state.cut:
                continue
            line = plan.request.stock[index]
            yield group, bar, line, next((c for c in covers if c.length == line.length), None)


def _reserve_offcuts(session: Session, plan: Plan, plan_id: str, caller: Caller, now: int) -> list[Conflict]:
    planned = {offcut.tag: offcut for offcut in plan.request.offcuts}
    bars = [bar for group in plan.groups for bar in group.bars]
    tags = [bar.source for bar in bars if bar.offcut and not bar.state.cut]
    rows = lock_offcuts(session, tags)
    at_saw = short_at_saw(session, followed(session, plan_id))
    conflicts: list[Conflict] = []
    entries = []
    for tag in sorted(tags):
        row = rows.get(tag)
        if row is None:
            conflicts.append(_conflict(tag, NOT_HERE))
            continue
        tagged = tagged_of(row)
        if not same_to_cut(planned[tag], tagged.offcut):
            conflicts.append(_conflict(tag, "corrected since the plan was made", tagged.plan))
            continue
        if tag in at_saw:
            back = rack.retrieve(tagged, plan=plan_id, reason="an open piece is cut of it")
            entries.append(back.entry)
            tagged = back.after
        try:
            move = rack.reserve(tagged, plan_id)
        except StockConflict as why:
            conflicts.append(_conflict(tag, why.state, why.plan))
            continue
        put_back(row, move.after, row.seen_at)
        entries.append(move.entry)
    record(session, entries, caller.label, now)
    return conflicts


def _reserve_bars(
    session: Session, plan: Plan, plan_id: str, caller: Caller, now: int
) -> tuple[dict[Material, str], list[Conflict]]:
    needed: Counter[Material] = Counter()
    lines: dict[Material, StockLine] = {}
    for _, _, line, cover in needed_bars(plan):
        for one in (line, cover):
            if one is not None:
                material = _material(one)
                needed[material] += 1
                lines[material] = one
    shelf_of: dict[Material, str] = {}
    for material in sorted(needed):
        row = find_shelf(session, material)
        if row is None:
            # Bars nobody has listed here yet: the plan brings their shelf along, empty, to be ordered.
            row = new_shelf(session, material, None, orderable=True, now=now).row
            if shop_currencies(session) in ([], [plan.request.currency]):
                keep_terms(row, replace(lines[material], count=None, on_hand=0))
                row.currency = plan.request.currency if row.price is not None else ""
        shelf_of[material] = row.id
    shelves = lock_shelves(session, set(shelf_of.values()))
    conflicts: list[Conflict] = []
    for material, shelf_id in sorted(shelf_of.items(), key=lambda item: item[1]):
        bars = needed[material]

        def act(shelf: Shelf, bars: int = bars) -> ShelfMove:
            return reserve_bars(shelf, plan_id, bars)

        try:
            change(session, shelves[shelf_id], act, caller.label, now)
        except StockConflict as why:
            conflicts.append(_conflict(why.thing, why.state, why.plan))
    return shelf_of, conflicts


def _add_bars(session: Session, row: PlanRow, plan: Plan, shelf_of: dict[Material, str]) -> None:
    """Set up the plan's bars; those that an earlier plan has cut keep what was reported of them."""
    pieces = {piece.id: piece for piece in plan.pieces}
    new = {bar.number: (line, cover) for _, bar, line, cover in needed_bars(plan)}
    costs = bar_costs(plan)
    reported = reported_before(session, row.id)
    for group in plan.groups:
        for bar in group.bars:
            line, cover = new.get(bar.number, (None, None))
            shelf = shelf_of[_material(line)] if line else ""
            cover_shelf = shelf_of[_material(cover)] if cover else ""
            made = bar_record(group, bar, pieces, shelf, cover_shelf, costs.get(bar.number, 0))
            before = reported.get(bar.number) if bar.state.cut else None
            session.add(
                BarRow(
                    plan_id=row.id,
                    number=bar.number,
                    state=before.state if before else BarState.OPEN.value,
                    source=bar.source if bar.offcut else "",
                    record=to_json(made),
                    open_pieces=[],
                    report=before.report if before else None,
                    reported_at=before.reported_at if before else None,
                    reported_by=before.reported_by if before else None,
                    born=before.born if before else None,
                )
            )


def reported_before(session: Session, plan_id: str) -> dict[int, BarRow]:
    """Give the bars that were reported of the plans which a plan goes on from, the latest word of each."""
    found: dict[int, BarRow] = {}
    states = (BarState.CUT.value, BarState.DEFECT.value, BarState.MISSING.value)
    for ancestor in followed(session, plan_id):
        rows = session.scalars(select(BarRow).where(BarRow.plan_id == ancestor, BarRow.state.in_(states)))
        for bar in rows:
            found.setdefault(bar.number, bar)
    return found


def _material(line: StockLine) -> Material:
    return (line.family, line.finish, line.part, line.length)


def _conflict(thing: str, state: str, plan: str = "") -> Conflict:
    return {"thing": thing, "state": state, "plan": plan}


def free_everything(session: Session, plan_id: str, caller: Caller, now: int) -> None:
    """Give back all that a plan still has reserved; what is too short to keep is scrap again."""
    tags = session.scalars(
        select(OffcutRow.tag).where(OffcutRow.plan_id == plan_id, OffcutRow.state == State.RESERVED.value)
    ).all()
    entries = []
    for row in lock_offcuts(session, tags).values():
        move = rack.free(tagged_of(row), plan_id)
        entries.append(move.entry)
        if too_short(session, row):
            move = rack.scrap(move.after, reason=SHORT)
            entries.append(move.entry)
        put_back(row, move.after, row.seen_at)
    record(session, entries, caller.label, now)
    _free_bars(session, plan_id, caller, now)


def _free_bars(session: Session, plan_id: str, caller: Caller, now: int) -> None:
    held = session.scalars(select(HoldRow.shelf_id).where(HoldRow.plan_id == plan_id)).all()
    for one in lock_shelves(session, set(held)).values():
        change(session, one, lambda shelf: free_bars(shelf, plan_id), caller.label, now)
