"""A consistent copy of a SQLite database while others read and write it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import make_url


class NotPossible(Exception):
    """The database is of another kind, or the target is there already."""


def back_up(url: str, target: Path) -> None:
    """
    Copy the database page by page with SQLite's online backup.

    The copy is whole or not there: it is written beside the target and moved into place.

    Raises
    ------
    NotPossible
        When the database is no SQLite file, or the target exists.
    """
    source = make_url(url)
    if source.get_backend_name() != "sqlite" or not source.database:
        raise NotPossible("Only a SQLite database is copied here; for PostgreSQL use pg_dump.")
    if target.exists():
        raise NotPossible(f"{target} exists already.")
    if not Path(source.database).exists():
        raise NotPossible(f"There is no database {source.database}.")
    partial = target.with_name(target.name + ".partial")
    partial.unlink(missing_ok=True)
    with closing(sqlite3.connect(source.database)) as live, closing(sqlite3.connect(partial)) as copy:
        live.execute("PRAGMA busy_timeout=15000")
        # A copy in one step sees one moment; writers carry on meanwhile, the log keeps them apart.
        live.backup(copy)
    partial.replace(target)
