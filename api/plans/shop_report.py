"""What the shop has said of a released plan, bar by bar, in the words of a re-plan."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.offcuts.short import short_at_saw
from api.plans.states import BarState
from api.processes.follow import Follow
from api.store.models import BarRow, OffcutRow
from nesting.domain.made import Span
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.planning.report_faults import tail_range
from nesting.stockroom.states import State
from nesting.units import NO_LENGTH, Length, read_length


def what_the_shop_said(
    session: Session, plan_id: str, plan: Plan, *, frozen: Collection[int] = (), freely: bool = False
) -> Follow:
    """
    Give a plan with what was reported of its bars, in the words of a re-plan.

    What came of a bar counts only while it lies free on the rack, or at the saw where it was too short to
    keep; a tail or a piece that somebody has meanwhile is not planned on.

    Parameters
    ----------
    frozen
        Bars still to be cut that stay as they are.
    """
    rows = {row.number: row for row in session.scalars(select(BarRow).where(BarRow.plan_id == plan_id))}
    free = _free_born(session, plan_id)
    reports: list[BarReport] = []
    lost: list[str] = []
    tags: dict[str, str] = {}
    groups: list[GroupPlan] = []
    for group in plan.groups:
        bars: list[PlannedBar] = []
        for bar in group.bars:
            row = rows.get(bar.number)
            said, now = None, bar
            if row is not None and not bar.state.cut:
                said, now = _said(group, bar, row, free, lost, tags)
            if said is None and bar.number in frozen and not bar.state.cut:
                said = BarReport(bar=bar.number, outcome=Outcome.FROZEN)
            reports += [said] if said else []
            bars.append(now)
        groups.append(replace(group, bars=tuple(bars)))
    return Follow(
        before=replace(plan, groups=tuple(groups)),
        report=ShopReport(plan=plan.id, bars=tuple(reports), lost=tuple(lost)),
        freely=freely,
        tags=tags,
    )


def _free_born(session: Session, plan_id: str) -> Mapping[str, OffcutRow]:
    query = select(OffcutRow).where(OffcutRow.born_plan == plan_id, OffcutRow.state == State.FREE.value)
    return {row.tag: row for row in session.scalars(query)} | short_at_saw(session, [plan_id])


def _said(
    group: GroupPlan,
    bar: PlannedBar,
    row: BarRow,
    free: Mapping[str, OffcutRow],
    lost: list[str],
    tags: dict[str, str],
) -> tuple[BarReport | None, PlannedBar]:
    """Give the report of one bar, and the bar under the tag that its tail has got."""
    if row.state in (BarState.DEFECT.value, BarState.MISSING.value):
        if bar.offcut and row.state == BarState.MISSING.value:
            return BarReport(bar=bar.number, outcome=Outcome.NOT_FOUND), bar
        # Paid for and of no use to this plan, whole or lost.
        spoilt = (Span(NO_LENGTH, bar.length),)
        return BarReport(bar=bar.number, outcome=Outcome.STOPPED, defects=spoilt), bar
    if row.state != BarState.CUT.value:
        return None, bar
    words = row.report or {}
    kept: Mapping[str, str] = words.get("kept", {})
    there = {piece: free[tag] for piece, tag in kept.items() if tag in free}
    tags.update({piece: found.tag for piece, found in there.items()})
    miscuts = tuple(
        Miscut(piece, Length(there[piece].length) if piece in there else None)
        for piece in words.get("spoiled", ())
    )
    said = BarReport(bar=bar.number, outcome=Outcome.DONE, miscuts=miscuts)
    on_rack = free.get(row.born or "")
    if row.born is not None:
        bar = replace(bar, tail_tag=row.born)
    tail = Length(on_rack.length) if on_rack else _tail_of(words)
    least, most = tail_range(bar, group.saw, said)
    explained = tail is None or least <= tail <= most
    if explained:
        said = replace(said, tail=tail)
    if row.born is not None and (on_rack is None or not explained):
        lost.append(row.born)  # somebody has it, or nobody knows why it is so long: no piece is planned on it
    return said, bar


def _tail_of(words: Mapping[str, object]) -> Length | None:
    said, exact = words.get("tail"), words.get("tail_nm")
    if isinstance(said, str):
        return read_length(said, None, may_be_zero=True).length
    return Length(exact) if isinstance(exact, int) else None


def anything_open(follow: Follow) -> bool:
    """Whether any piece is still to be made: on an open bar, spoiled, or left out before."""
    return any(_still_to_make(follow))


def _still_to_make(follow: Follow) -> Iterator[str]:
    yield from (one.piece for one in follow.before.unplaced if one.piece)
    reports = {one.bar: one for one in follow.report.bars}
    for group in follow.before.groups:
        for bar in group.bars:
            said = reports.get(bar.number)
            if bar.state.cut:
                continue
            if said is None or said.outcome is not Outcome.DONE:
                yield from (cut.piece for cut in bar.cuts)
            else:
                yield from (one.piece for one in said.miscuts)
