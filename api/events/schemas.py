"""Movements as they are answered."""

from __future__ import annotations

from typing import Self

from pydantic import BaseModel, Field

from api.events.ledger import entry_of
from api.store.models import LedgerRow
from api.web.lengths import LengthRead, Moment, length_read, moment
from nesting.stockroom.ledger import Account, Kind
from nesting.units import Unit


class PostingRead(BaseModel):
    """Length that entered (positive) or left (negative) an account."""

    account: Account
    length: LengthRead


class EventRead(BaseModel):
    """One movement; its postings sum to zero."""

    id: int = Field(description="Counts up; also the cursor.")
    at: Moment
    kind: Kind
    thing: str = Field(description="Tag of the offcut, or name of the shelf.")
    bars: int = Field(description="Whole bars moved.")
    plan: str | None = Field(description="Id of the plan that caused it.")
    bar: int | None = Field(description="Number of the plan's bar.")
    postings: list[PostingRead]
    reason: str
    by: str = Field(description="Label of the key.")

    @classmethod
    def of(cls, row: LedgerRow, unit: Unit) -> Self:
        """Give a row as it is answered."""
        entry = entry_of(row)
        postings = [
            PostingRead(account=posting.account, length=length_read(posting.length, unit))
            for posting in entry.postings
        ]
        return cls(
            id=row.id,
            at=moment(row.at),
            kind=entry.kind,
            thing=row.thing,
            bars=row.bars,
            plan=row.plan_id,
            bar=row.bar,
            postings=postings,
            reason=row.reason,
            by=row.by,
        )


class BalanceRead(BaseModel):
    """Where all length is now, by the ledger, and what shelves and rack say they hold."""

    accounts: dict[Account, LengthRead] = Field(description="Sum of the postings of each account.")
    held: LengthRead = Field(description="Sum over the shelves and the rack.")
    balanced: bool = Field(description="Whether the account store equals what is held, and all sum to zero.")
