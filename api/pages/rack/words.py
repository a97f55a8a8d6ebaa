"""Ends, ages, worth and holders of what lies on the rack, in the words of the shop."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.store.models import BarRow, OffcutRow, PlanRow, ShelfRow
from nesting.domain.stock import EndState
from nesting.stockroom.states import State

MaterialKey = tuple[str, str, str]
_MICROSECONDS_A_DAY = 86_400_000_000
_MOST_DAYS = 60
_DAYS_A_MONTH = 30.44
_CENT = 100  # in ten-thousandths of a currency unit


@dataclass(frozen=True, slots=True)
class Holder:
    """A plan that has something reserved or has cut it; ``bar`` is 0 where its bar is not known."""

    plan: str
    number: int
    title: str
    by: str
    bar: int = 0

    @property
    def name(self) -> str:
        """Name the plan as its tags do: ``plan P3``."""
        return f"plan P{self.number}"


def holders(session: Session, rows: Iterable[OffcutRow]) -> dict[str, Holder]:
    """Give for each tag the plan that has it, with the bar it is."""
    held = {row.tag: row.plan_id for row in rows if row.plan_id}
    plans = plans_named(session, set(held.values()))
    query = select(BarRow.source, BarRow.plan_id, BarRow.number).where(
        BarRow.source.in_(held), BarRow.plan_id.in_(plans)
    )
    bars = {(source, plan): number for source, plan, number in session.execute(query)}
    return {
        tag: Holder(*_said(plans[plan]), bar=bars.get((tag, plan), 0))
        for tag, plan in held.items()
        if plan in plans
    }


def plans_named(session: Session, plans: Collection[str]) -> dict[str, PlanRow]:
    """Give the rows of plans by their ids."""
    return {row.id: row for row in session.scalars(select(PlanRow).where(PlanRow.id.in_(plans)))}


def holder_of(row: PlanRow) -> Holder:
    """Give a plan as a holder, without a bar."""
    return Holder(*_said(row))


def ends_words(left: EndState, right: EndState) -> str:
    """Say how many ends are clean saw faces: one raw end is turned away from the stop."""
    raw = (left, right).count(EndState.RAW)
    return ("both ends clean", "one end raw", "both ends raw")[raw]


def age_words(since: int, now: int) -> str:
    """Say how long ago something was: ``today``, ``12 days``, ``5 months``; times in microseconds."""
    days = max(0, now - since) // _MICROSECONDS_A_DAY
    if not days:
        return "today"
    if days < _MOST_DAYS:
        return "1 day" if days == 1 else f"{days} days"
    return f"{round(days / _DAYS_A_MONTH)} months"


def day_words(at: int) -> str:
    """Give the day of a time, by UTC: ``2026-03-02``."""
    return f"{_time(at):%Y-%m-%d}"


def minute_words(at: int) -> str:
    """Give a time to the minute, by UTC: ``2026-03-02 09:30``."""
    return f"{_time(at):%Y-%m-%d %H:%M}"


def cheapest_bars(session: Session, families: Collection[str]) -> dict[MaterialKey, list[tuple[int, int]]]:
    """Give (price, length) of the bars of each material that can be bought at a known price."""
    query = select(ShelfRow).where(
        ShelfRow.family.in_(families), ShelfRow.price.is_not(None), ShelfRow.orderable
    )
    bars: dict[MaterialKey, list[tuple[int, int]]] = {}
    for row in session.scalars(query):
        bars.setdefault((row.family, row.finish, row.part), []).append((row.price or 0, row.length))
    return bars


def worth_as_new(
    length: int, material: MaterialKey, bars: Mapping[MaterialKey, list[tuple[int, int]]]
) -> int | None:
    """
    Give what the same length of new bar would cost, at the least price a metre, in ten-thousandths.

    Rounded down to a hundredth of a currency unit; None where no price is known.
    """
    prices = [length * price // bar for price, bar in bars.get(material, ())]
    return min(prices) // _CENT * _CENT if prices else None


def state_words(state: State) -> str:
    """Say how an offcut stands, as a storekeeper would."""
    said = {
        State.QUARANTINED: "set aside",
        State.CUT: "cut up",
        State.WITHDRAWN: "not there: report taken back",
    }
    return said.get(state, state.value)


def _said(row: PlanRow) -> tuple[str, int, str, str]:
    return (row.id, row.number, row.title, row.released_by or row.created_by)


def _time(at: int) -> dt.datetime:
    return dt.datetime.fromtimestamp(at // 1_000_000, dt.UTC)
