"""The shop's one currency."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.store.models import ShelfRow


def shop_currencies(session: Session) -> list[str]:
    """Give the currencies that the prices of bars name: one, or none as long as none has been named."""
    query = select(ShelfRow.currency).where(ShelfRow.currency != "").distinct().order_by(ShelfRow.currency)
    return list(session.scalars(query))


def settle_currency(session: Session) -> None:
    """
    Give every priced shelf that names no currency the shop's.

    Raises
    ------
    Problem
        When prices would stand in two currencies: a plan adds them up.
    """
    from api.web.problems import Problem  # the processes that read uploads do without the web

    session.flush()
    named = shop_currencies(session)
    if len(named) > 1:
        detail = f"Prices would stand in {' and '.join(named)}; a shop has one currency for all its bars."
        raise Problem(409, "currencies-differ", detail)
    if named:
        unnamed = select(ShelfRow).where(ShelfRow.currency == "", ShelfRow.price.is_not(None))
        for row in session.scalars(unnamed):
            row.currency = named[0]
    session.flush()
