"""The database behind the service: connections, transactions, the one clock."""

from __future__ import annotations

import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url, text
from sqlalchemy.orm import Session

BUSY_MILLISECONDS = 15_000
IDLE_MILLISECONDS = 20_000
"""How long a transaction of ours may lie idle; all that is worked out inside one takes a second or two."""


class Store:
    """
    Sessions on one database.

    Every change goes through ``write``: one transaction, all of it or nothing. On SQLite it takes
    the write lock at its start, so that two writers wait for each other instead of failing.

    Parameters
    ----------
    url
        SQLAlchemy URL, ``sqlite:///...`` or ``postgresql+psycopg://...``.
    """

    def __init__(self, url: str, *, connections: int = 10) -> None:
        self.url = make_url(url)
        self.sqlite = self.url.get_backend_name() == "sqlite"
        if self.sqlite and self.url.database:
            Path(self.url.database).parent.mkdir(parents=True, exist_ok=True)
        options: dict[str, Any] = {"pool_pre_ping": True}
        if not self.sqlite:
            # A sleeping server or a cut cable must not hold a request for ever, nor a worker that is frozen
            # inside a transaction the row of its plan: nobody could take the plan over.
            waits = {"statement_timeout": 60_000, "idle_in_transaction_session_timeout": IDLE_MILLISECONDS}
            settings = " ".join(f"-c {name}={milliseconds}" for name, milliseconds in waits.items())
            options["connect_args"] = {"connect_timeout": 10, "options": settings}
        self.engine: Engine = create_engine(
            self.url, pool_size=connections, max_overflow=20, pool_timeout=20, **options
        )
        # SQLite's own waiting polls with growing pauses; inside one process a lock is fair and fast.
        self._writers = threading.Lock() if self.sqlite else nullcontext()
        if self.sqlite:
            event.listen(self.engine, "connect", _prepare_sqlite)
            event.listen(self.engine, "begin", _begin_sqlite)

    @contextmanager
    def read(self) -> Iterator[Session]:
        """Give a session for looking only."""
        with Session(self.engine, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def read_one_moment(self) -> Iterator[Session]:
        """Give a session whose every look is at the same moment, whatever others do meanwhile."""
        connection = self.engine.connect()
        if not self.sqlite:  # there every transaction sees one moment
            connection = connection.execution_options(isolation_level="REPEATABLE READ")
        with connection, Session(connection, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def write(self) -> Iterator[Session]:
        """Give a session whose changes are committed together at the end, or not at all."""
        with self._writers:
            connection = self.engine.connect().execution_options(writes=True)
            with connection, Session(connection, expire_on_commit=False) as session, session.begin():
                yield session

    def now(self, session: Session) -> int:
        """
        Give microseconds since 1970 (UTC) by the clock all machines share.

        That is the database's; a SQLite file has only one machine.
        """
        if self.sqlite:
            return microseconds()
        return int(
            session.execute(
                text("SELECT (extract(epoch FROM clock_timestamp()) * 1000000)::bigint")
            ).scalar_one()
        )

    def close(self) -> None:
        """Close every connection."""
        self.engine.dispose()


def microseconds() -> int:
    """Give microseconds since 1970 (UTC) by this machine's clock."""
    return time.time_ns() // 1000


def _prepare_sqlite(connection: Any, _: Any) -> None:
    connection.isolation_level = None  # SQLAlchemy begins; the driver must not
    cursor = connection.cursor()
    cursor.execute(f"PRAGMA busy_timeout={BUSY_MILLISECONDS}")
    _write_ahead(cursor)
    cursor.execute("PRAGMA synchronous=FULL")  # an accepted plan survives a power cut, not only a crash
    cursor.execute("PRAGMA foreign_keys=ON")
    cursor.close()


def _write_ahead(cursor: Any) -> None:
    """Log ahead; while another process switches a new file over, SQLite may refuse at once, not wait."""
    until = time.monotonic() + BUSY_MILLISECONDS / 1000
    while True:
        try:
            cursor.execute("PRAGMA journal_mode=WAL")
        except sqlite3.OperationalError:
            if time.monotonic() > until:
                raise
            time.sleep(0.01)
        else:
            return


def _begin_sqlite(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
