"""The database's shape: made on start, the same on both databases, told apart from other versions."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from api.store.engine import Store
from api.store.migrate import is_current, upgrade
from api.store.models import Base


def test_migrations_make_what_the_models_say(database: str) -> None:
    """No column is forgotten on either database."""
    store = Store(database)
    assert not is_current(store)
    upgrade(store)
    assert is_current(store)
    with store.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), Base.metadata) == []
    store.close()


def test_several_processes_may_start_at_once(database: str) -> None:
    """One migrates, the others wait and find it done."""
    stores = [Store(database) for _ in range(4)]
    with ThreadPoolExecutor(4) as starting:
        list(starting.map(upgrade, stores))
    assert all(is_current(store) for store in stores)
    for store in stores:
        store.close()


@pytest.mark.parametrize("statement", ["UPDATE ledger SET reason = 'other'", "DELETE FROM ledger"])
def test_the_ledger_cannot_be_changed(database: str, statement: str) -> None:
    """Not even by somebody who has the database's password."""
    store = Store(database)
    upgrade(store)
    with store.write() as session:
        row = "(at, kind, thing, bars, postings, reason, by_whom) VALUES (1, 'count', 'x', 0, '{}', '', 'me')"
        session.execute(text("INSERT INTO ledger " + row.replace(":", r"\:")))
    with pytest.raises(DBAPIError, match="append-only"), store.write() as session:
        session.execute(text(statement))
    store.close()
