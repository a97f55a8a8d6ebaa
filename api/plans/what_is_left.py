"""What a plan can go on with: the free offcuts, the bars that can still be had, the bars that are its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.catalogue.contents import offcut_of
from api.offcuts.service import same_to_cut
from api.offcuts.short import too_short
from api.processes.follow import Follow
from api.store.models import OffcutRow, ShelfRow
from nesting.domain.plan import GroupPlan, Plan, PlannedBar, Unplaced
from nesting.domain.report import Outcome
from nesting.domain.stock import Offcut, StockLine
from nesting.stockroom.states import State
from nesting.verify.bill import lines_of
from nesting.verify.replanned import born_tags


def on_what_is_left(session: Session, follow: Follow) -> Follow:
    """
    Give what a plan goes on from, with the rack and the bars that are free now.

    Prices and terms stay those it was bought at. A bar whose offcut or whose stock has gone to somebody
    else is taken out of the plan; its pieces come back to be planned.
    """
    plan = follow.before
    rack = _rack_now(session, follow)
    stock, left = _stock_now(session, follow)
    groups: list[GroupPlan] = []
    homeless: list[str] = []
    for group in plan.groups:
        bars = []
        for bar in group.bars:
            if _is_there(plan, group, bar, follow, rack, left):
                bars.append(bar)
            else:
                homeless += [cut.piece for cut in bar.cuts]
        groups.append(replace(group, bars=tuple(bars)))
    known = {one.piece for one in plan.unplaced}
    out = [_unplaced(plan, piece) for piece in homeless if piece not in known]
    gone = {bar.number for group in plan.groups for bar in group.bars} - {
        bar.number for group in groups for bar in group.bars
    }
    report = replace(follow.report, bars=tuple(one for one in follow.report.bars if one.bar not in gone))
    return replace(
        follow,
        before=replace(
            plan,
            request=replace(plan.request, offcuts=rack, stock=stock, findings=()),
            groups=tuple(groups),
            unplaced=(*plan.unplaced, *out),
        ),
        report=report,
    )


def _is_there(
    plan: Plan,
    group: GroupPlan,
    bar: PlannedBar,
    follow: Follow,
    rack: Sequence[Offcut],
    left: Counter[int],
) -> bool:
    if bar.number in _spent(follow):
        return True
    if bar.offcut:
        return any(offcut.tag == bar.source for offcut in rack)
    lines = lines_of(plan.request, group, bar.source)
    if any(line in left and left[line] < 1 for line in lines):
        return False
    left.subtract(line for line in lines if line in left)
    return True


def _spent(follow: Follow) -> frozenset[int]:
    """Give the bars that are used up: cut before, or reported as anything but still to be cut."""
    bars = [bar for group in follow.before.groups for bar in group.bars]
    before = {bar.number for bar in bars if bar.state.cut}
    return frozenset(before | {one.bar for one in follow.report.bars if one.outcome is not Outcome.FROZEN})


def _rack_now(session: Session, follow: Follow) -> tuple[Offcut, ...]:
    """Give what the plan may use: free offcuts, and those it has cut, as it knows them."""
    plan, request = follow.before, follow.before.request
    spent = _spent(follow)
    bars = [bar for group in plan.groups for bar in group.bars]
    used = {bar.source for bar in bars if bar.offcut and bar.number in spent}
    # What the reported bars gave is told by the report itself.
    told = {bar.tail_tag for bar in bars if bar.number in spent and not bar.state.cut} | set(
        follow.tags.values()
    )
    born = set(born_tags(plan))
    open_sources = {bar.source for bar in bars if bar.offcut} - used
    families = {offcut.family for offcut in request.offcuts} | {line.family for line in request.stock}
    query = select(OffcutRow).where(OffcutRow.state == State.FREE.value, OffcutRow.family.in_(families))
    now = {row.tag: offcut_of(row) for row in session.scalars(query.order_by(OffcutRow.tag))}
    planned = {offcut.tag: offcut for offcut in request.offcuts}
    # A short piece that the plan has found a use for is scrap to everybody else.
    named = select(OffcutRow).where(OffcutRow.tag.in_(open_sources), OffcutRow.state == State.SCRAPPED.value)
    now |= {row.tag: offcut_of(row) for row in session.scalars(named) if too_short(session, row)}
    rack: dict[str, Offcut] = {}
    for tag, offcut in planned.items():
        if tag in used or (tag in now and same_to_cut(offcut, now[tag])):
            rack[tag] = offcut
    for tag, offcut in now.items():
        strange = tag in planned and (tag in born or tag in open_sources)
        if tag not in rack and tag not in told and not strange:
            rack[tag] = offcut
    return tuple(rack.values())


def _stock_now(session: Session, follow: Follow) -> tuple[tuple[StockLine, ...], Counter[int]]:
    """Give the stock lines with what can be had of each, and how many of the limited ones are left."""
    plan = follow.before
    spent = _spent(follow)
    taken = Counter(
        line
        for group in plan.groups
        for bar in group.bars
        if bar.number in spent
        for line in lines_of(plan.request, group, bar.source)
    )
    lines: list[StockLine] = []
    left: Counter[int] = Counter()
    shelves = {(s.family, s.finish, s.part, s.length): s for s in session.scalars(select(ShelfRow))}
    for index, line in enumerate(plan.request.stock):
        shelf = shelves.get((line.family, line.finish, line.part.value, line.length))
        count, hand = line.count, line.on_hand
        if shelf is not None:
            hand = min(hand, taken[index] + shelf.free)
            if not shelf.orderable:
                count = taken[index] + shelf.free
        if count is not None:
            hand = min(hand, count)
            left[index] = max(count - taken[index], 0)
        lines.append(replace(line, count=count, on_hand=hand))
    return tuple(lines), left


def _unplaced(plan: Plan, name: str) -> Unplaced:
    piece = next(piece for piece in plan.pieces if piece.id == name)
    return Unplaced(
        job=piece.job,
        run=piece.run,
        piece=piece.id,
        length=piece.length,
        reason="the bar it was planned on has gone to another plan",
        code="bar-gone",
        where=piece.where,
    )
