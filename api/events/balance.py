"""Whether the books and the shelves agree."""

from __future__ import annotations

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from api.events.ledger import entry_of
from api.events.schemas import BalanceRead
from api.store.models import HoldRow, LedgerRow, OffcutRow, ShelfRow
from api.web.lengths import length_read
from nesting.stockroom.ledger import Account, balance
from nesting.stockroom.states import State
from nesting.units import Unit


def balance_now(session: Session, unit: Unit) -> BalanceRead:
    """Add up the ledger, and what shelves and rack hold; the session should see one moment only."""
    rows = session.scalars(select(LedgerRow).order_by(LedgerRow.id).execution_options(yield_per=1_000))
    sums = balance(entry_of(row) for row in rows)
    held = held_length(session)
    return BalanceRead(
        accounts={account: length_read(sums[account], unit) for account in Account},
        held=length_read(held, unit),
        balanced=sums[Account.STORE] == held and sum(sums.values()) == 0,
    )


def held_length(session: Session) -> int:
    """Give the length on shelves and rack, nanometres."""
    kept = [state.value for state in State if state.held]
    rack = session.execute(select(func.sum(OffcutRow.length)).where(OffcutRow.state.in_(kept))).scalar()
    there = (ShelfRow.free + ShelfRow.quarantined) * ShelfRow.length
    shelves = session.execute(select(func.sum(there))).scalar()
    holds = session.execute(select(func.sum(HoldRow.bars * ShelfRow.length)).join(ShelfRow)).scalar()
    return int(rack or 0) + int(shelves or 0) + int(holds or 0)
