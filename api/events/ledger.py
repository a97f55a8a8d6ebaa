"""Writing the stockroom's entries down, and reading them back."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy.orm import Session

from api.store.models import LedgerRow
from nesting.stockroom.ledger import Account, Entry, Kind, Posting


def record(session: Session, entries: Iterable[Entry], by: str, now: int) -> None:
    """Append entries, in the transaction that makes them true."""
    session.add_all(
        LedgerRow(
            at=now,
            kind=entry.kind.value,
            thing=entry.thing,
            bars=entry.bars,
            plan_id=entry.plan or None,
            bar=entry.bar or None,
            postings={posting.account.value: posting.length for posting in entry.postings},
            reason=entry.reason,
            by=by,
        )
        for entry in entries
    )
    session.flush()


def entry_of(row: LedgerRow) -> Entry:
    """Give a row as the stockroom's entry."""
    return Entry(
        kind=Kind(row.kind),
        thing=row.thing,
        bars=row.bars,
        plan=row.plan_id or "",
        bar=row.bar or 0,
        postings=tuple(Posting(Account(name), length) for name, length in row.postings.items()),
        reason=row.reason,
    )
