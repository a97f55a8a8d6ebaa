"""What a database does for the service when somebody who works on it stands still."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

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


class _Refusing(sqlite3.Cursor):
    """A cursor on a file that another process is switching over: refused at once, whatever the timeout."""

    left = 2

    def execute(self, statement: str, *more: Any) -> Any:
        """Refuse to switch over, twice."""
        if "journal_mode" in statement and _Refusing.left:
            _Refusing.left -= 1
            raise sqlite3.OperationalError("database is locked")
        return super().execute(statement, *more)


class _Busy(sqlite3.Connection):
    def cursor(self, *_: Any, **__: Any) -> Any:
        """Give a cursor that is refused."""
        return super().cursor(_Refusing)


def test_a_new_file_that_another_process_switches_over_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of several servers started on a new file at once, now and then one found it locked and ended."""
    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3.dbapi2, "connect", lambda *a, **k: connect(*a, **k, factory=_Busy))
    store = Store(f"sqlite:///{tmp_path / 'store.sqlite3'}")
    with store.write() as session:
        assert session.execute(text("PRAGMA journal_mode")).scalar_one() == "wal"
    assert _Refusing.left == 0
    store.close()
