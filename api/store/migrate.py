"""Bring a database to the shape this code expects; safe when several processes start at once."""

from __future__ import annotations

import logging

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

from api.store.engine import Store

# Any number will do as long as every version of the service uses the same.
_LOCK = 4_417_050_925


def upgrade(store: Store) -> None:
    """Run the migrations that are missing, in one transaction, one process at a time."""
    with store.engine.connect().execution_options(writes=True) as connection, connection.begin():
        if not store.sqlite:
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
        if not _current(connection):
            logging.getLogger("alembic").setLevel(logging.WARNING)
            command.upgrade(_config(connection), "head")


def is_current(store: Store) -> bool:
    """Whether the database has the shape this code expects."""
    with store.engine.connect() as connection:
        return _current(connection)


def _current(connection: Connection) -> bool:
    wanted = ScriptDirectory.from_config(_config(connection)).get_current_head()
    return MigrationContext.configure(connection).get_current_revision() == wanted


def _config(connection: Connection) -> Config:
    config = Config()
    config.set_main_option("script_location", "api.store:migrations")
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config
