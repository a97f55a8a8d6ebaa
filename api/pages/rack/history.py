"""What has happened to one offcut or one shelf, from the ledger, latest first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.events.ledger import entry_of
from api.pages.rack.words import Holder, holder_of, minute_words, plans_named
from api.store.models import LedgerRow
from nesting.reports.lengths import BothUnits
from nesting.stockroom.ledger import Account, Entry, Kind
from nesting.units import Length

SHOWN = 200

_OFFCUT = {
    Kind.RECEIVE: "came on the rack",
    Kind.RESERVE: "reserved",
    Kind.FREE: "given back",
    Kind.CUT: "cut up",
    Kind.TAIL: "left over and put on the rack",
    Kind.QUARANTINE: "set aside",
    Kind.RESTORE: "put back",
    Kind.SCRAP: "scrapped",
    Kind.LOSE: "not found",
    Kind.FIND: "found again",
    Kind.COUNT: "seen, as long as is written",
    Kind.MEASURE: "measured anew",
    Kind.CORRECT: "written anew",
    Kind.WITHDRAW: "report taken back",
}
_BARS = {
    Kind.RECEIVE: "came in",
    Kind.RESERVE: "reserved",
    Kind.FREE: "given back",
    Kind.CUT: "cut",
    Kind.QUARANTINE: "set aside",
    Kind.RESTORE: "put back",
    Kind.SCRAP: "scrapped",
    Kind.LOSE: "not found",
    Kind.WITHDRAW: "put back, report taken back",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One movement in words, with the plan that caused it."""

    at: str
    what: str
    reason: str
    by: str
    holder: Holder | None
    bar: int


def offcut_history(session: Session, tag: str, lengths: BothUnits) -> tuple[Event, ...]:
    """Give the last movements of an offcut."""
    return _events(session, tag, lambda entry: _offcut_words(entry, lengths))


def bars_history(session: Session, shelf: str) -> tuple[Event, ...]:
    """Give the last movements of the bars of one stock length, by its name in the ledger."""
    return _events(session, shelf, _bars_words)


def _events(session: Session, thing: str, say: Callable[[Entry], str]) -> tuple[Event, ...]:
    query = select(LedgerRow).where(LedgerRow.thing == thing).order_by(LedgerRow.id.desc()).limit(SHOWN)
    rows = session.scalars(query).all()
    plans = plans_named(session, {row.plan_id for row in rows if row.plan_id})
    return tuple(
        Event(
            at=minute_words(row.at),
            what=say(entry_of(row)),
            reason=row.reason,
            by=row.by,
            holder=holder_of(plans[row.plan_id]) if row.plan_id in plans else None,
            bar=row.bar or 0,
        )
        for row in rows
    )


def _offcut_words(entry: Entry, lengths: BothUnits) -> str:
    said = _OFFCUT[entry.kind]
    # What the tape adds leaves the account of measuring differences.
    grown = -sum(one.length for one in entry.postings if one.account is Account.MEASURE)
    if entry.kind not in (Kind.MEASURE, Kind.FIND) or not grown:
        return said
    return f"{said}, {lengths.both(Length(abs(grown)))} {'longer' if grown > 0 else 'shorter'}"


def _bars_words(entry: Entry) -> str:
    bars = abs(entry.bars)
    many = f"{bars} bar{'' if bars == 1 else 's'}"
    if entry.kind is Kind.COUNT:
        more = "more" if entry.bars > 0 else "fewer"
        return f"counted, {many} {more} than written" if bars else "counted, as many as written"
    return f"{many} {_BARS.get(entry.kind, entry.kind.value)}"
