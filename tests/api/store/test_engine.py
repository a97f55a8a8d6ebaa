"""What a database does for the service when somebody who works on it stands still."""

from __future__ import annotations

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from api.store import engine
from api.store.engine import Store
from benchmarks.service.databases import MISSING, fresh_database


def test_whoever_is_frozen_inside_a_transaction_lets_go(
    postgres: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A worker stopped at that moment kept the row of its plan for ever, and no other could take it over."""
    if postgres is None:
        pytest.skip(MISSING)
    monkeypatch.setattr(engine, "IDLE_MILLISECONDS", 200)
    with fresh_database(postgres) as url:
        frozen, other = Store(url), Store(url)
        with other.write() as session:
            session.execute(text("CREATE TABLE held (id integer)"))

        def hold_too_long() -> None:
            with frozen.write() as session:
                session.execute(text("LOCK TABLE held"))
                with other.write() as beside:
                    beside.execute(text("LOCK TABLE held"))
                session.execute(text("INSERT INTO held VALUES (1)"))

        with pytest.raises(DBAPIError):
            hold_too_long()
        with other.read() as session:
            assert session.execute(text("SELECT count(*) FROM held")).scalar_one() == 0
        frozen.close()
        other.close()
