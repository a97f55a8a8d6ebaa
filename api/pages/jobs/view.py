"""One job on a page: what is complete or after which bar it will be, what is missing, what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from api.jobs.schemas import JobStatus
from api.jobs.service import show_jobs
from api.pages.environment import count
from api.pages.jobs.floors import FloorLines, floors_of
from api.pages.jobs.progress import Fate, PieceNow, UnitNow, units_of
from api.pages.jobs.read import Part, WaitingLine, batches_of, parts_of, waiting_lines
from api.pages.totals import total_words
from api.plans.states import PlanState
from api.store.engine import Store
from api.store.models import JobRow
from nesting.money import money_text
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import room_words
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One piece as a row; ``bar`` is 0 where no bar gives it."""

    piece: str
    run: str
    unit: str
    where: str
    length: str
    other_length: str
    said: str
    plan: str
    number: int
    bar: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """What the job takes from one plan, as a row."""

    plan: str
    number: int
    title: str
    state: str
    pieces: int
    cut: int
    left_out: int
    metal: str
    metal_share: str
    cost: str
    cost_share: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JobView:
    """
    One job.

    Parameters
    ----------
    said
        How it stands, one sentence each.
    floors
        The units, floor by floor; of one floor or unit where that is asked for.
    pieces
        The pieces of the unit that is asked for.
    """

    id: str
    name: str
    status: str
    said: tuple[str, ...]
    floors: tuple[FloorLines, ...]
    all_floors: tuple[FloorLines, ...]
    missing: tuple[PieceLine, ...]
    waiting: tuple[WaitingLine, ...]
    parts: tuple[PartLine, ...]
    cost: str
    pieces: tuple[PieceLine, ...]


def show_job(
    session: Session,
    store: Store,
    row: JobRow,
    lengths: BothUnits,
    *,
    building: str | None = None,
    floor: str | None = None,
    unit: str | None = None,
) -> JobView:
    """
    Give a job.

    Parameters
    ----------
    building, floor, unit
        Only this building and floor; the pieces of this unit besides.
    """
    parts = parts_of(session, row.id)
    read = show_jobs(session, [row], lengths.unit)[0]
    units = units_of(row.name, batches_of(session, store, [part.plan for part in parts]))
    waiting = waiting_lines(session, row.id)
    spread = len({one.building for one in units}) > 1
    floors = floors_of(
        units, several=len({now.plan for one in units for now in one.pieces}) > 1, spread=spread
    )

    def here(one: UnitNow | FloorLines) -> bool:
        return building in (None, one.building) and floor in (None, one.floor)

    return JobView(
        id=row.id,
        name=row.name,
        status=status_words(read.status),
        said=_sentences(units, waiting),
        floors=tuple(one for one in floors if here(one)),
        all_floors=floors,
        missing=tuple(_piece(now, lengths, spread=spread) for one in units for now in one.missing),
        waiting=waiting,
        parts=tuple(_part(part, lengths) for part in parts),
        cost=", ".join(f"{amount} {currency}".strip() for currency, amount in read.cost.items()),
        pieces=tuple(
            _piece(now, lengths, spread=spread)
            for one in units
            if here(one) and unit == one.unit
            for now in sorted(one.pieces, key=lambda now: (now.number, now.bar, now.piece))
        ),
    )


def status_words(status: JobStatus) -> str:
    """Say how a job stands by the least advanced thing that is still to happen for it."""
    return {
        JobStatus.COLLECTED: "not all planned",
        JobStatus.PLANNING: "being planned",
        JobStatus.WITHDRAWN: "withdrawn half cut, to be planned again",
        JobStatus.PROPOSED: "proposed, not released",
        JobStatus.EMPTY: "nothing planned",
    }.get(status, status.value)


def share_words(part: int, whole: int) -> str:
    """Give a share in per cent with one decimal; empty where there is nothing to share."""
    return f"{100 * part / whole:.1f} %" if whole else ""


def _sentences(units: Sequence[UnitNow], waiting: Sequence[WaitingLine]) -> tuple[str, ...]:
    pieces = sum(len(one.pieces) for one in units)
    said = []
    if pieces:
        cut = sum(one.count(Fate.CUT) for one in units)
        said.append(f"{cut} of {count(pieces, 'piece')} {'is' if cut == 1 else 'are'} cut.")
    named = [one for one in units if one.unit]
    if named:
        complete = sum(one.complete for one in named)
        said.append(f"{complete} of {count(len(named), 'unit')} {'is' if complete == 1 else 'are'} complete.")
    missing = sum(len(one.missing) for one in units)
    if missing:
        said.append(f"{count(missing, 'piece')} {'is' if missing == 1 else 'are'} missing.")
    if waiting:
        said.append(f"{count(len(waiting), 'line')} {'is' if len(waiting) == 1 else 'are'} in no plan yet.")
    return tuple(said)


def _piece(now: PieceNow, lengths: BothUnits, *, spread: bool) -> PieceLine:
    return PieceLine(
        piece=now.piece or now.run,
        run=now.run,
        unit=now.place.unit,
        where=room_words(now.place, spread=spread),
        length=lengths.first(Length(now.length)),
        other_length=lengths.second(Length(now.length)),
        said=_fate_words(now),
        plan=now.plan,
        number=now.number,
        bar=now.bar,
    )


def _fate_words(now: PieceNow) -> str:
    return {
        Fate.CUT: "cut",
        Fate.TO_CUT: "to be cut",
        Fate.PROPOSED: "to be cut, once the plan is released",
        Fate.AGAIN: f"to be made again, {now.why}",
        Fate.LEFT_OUT: now.why or "left out",
    }[now.fate]


def _part(part: Part, lengths: BothUnits) -> PartLine:
    share, plan = part.share, part.plan
    priced = part.cost_of_all > 0
    return PartLine(
        plan=plan.id,
        number=plan.number,
        title=plan.title,
        state=PlanState(plan.state).value,
        pieces=share.pieces,
        cut=share.done,
        left_out=share.unplaced,
        metal=total_words(share.consumed, lengths),
        metal_share=share_words(share.consumed, part.consumed_by_all),
        # Without any price a share of nothing would say that the bars are free.
        cost=f"{money_text(share.cost)} {share.currency}".strip() if priced else "",
        cost_share=share_words(share.cost, part.cost_of_all),
    )
