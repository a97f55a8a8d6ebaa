"""Databases to test on: a SQLite file each, and a private PostgreSQL where there is one."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import create_engine, make_url

VARIABLE = "NESTING_TEST_POSTGRES"
MISSING = f"no PostgreSQL here: initdb is not on the path and {VARIABLE} is not set"


@contextmanager
def postgres_server() -> Iterator[str | None]:
    """Give the URL of a server to make databases on; None when there is none."""
    if given := os.environ.get(VARIABLE):
        yield given
        return
    initdb, server = (_program(name) for name in ("initdb", "postgres"))
    if initdb is None or server is None or (os.getuid() == 0 and not _servant()):
        yield None
        return
    folder = Path(tempfile.mkdtemp(prefix="nesting-pg-"))
    user = _servant() if os.getuid() == 0 else None  # the server refuses to run as root
    if user:
        shutil.chown(folder, user)
    data = folder / "data"
    as_user = {"user": user} if user else {}
    subprocess.run(
        [initdb, "-D", str(data), "-U", "nesting", "-A", "trust", "-E", "UTF8", "--no-sync"],
        check=True,
        stdout=subprocess.DEVNULL,
        cwd=folder,
        **as_user,  # type: ignore[call-overload]
    )
    settings = (f"unix_socket_directories={folder}", "listen_addresses=", "fsync=off", "max_connections=200")
    process = subprocess.Popen(
        [server, "-D", str(data), *(word for setting in settings for word in ("-c", setting))],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        cwd=folder,
        **as_user,  # type: ignore[call-overload]
    )
    url = f"postgresql+psycopg://nesting@/postgres?host={folder}"
    try:
        _await(url)
        yield url
    finally:
        process.terminate()
        process.wait(20)
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def fresh_database(server: str) -> Iterator[str]:
    """Give the URL of an empty database on a server."""
    name = f"nesting_{uuid.uuid4().hex[:12]}"
    _run(server, f"CREATE DATABASE {name}")
    try:
        yield make_url(server).set(database=name).render_as_string(hide_password=False)
    finally:
        _run(server, f"DROP DATABASE {name} WITH (FORCE)")


def _run(url: str, statement: str) -> None:
    engine = create_engine(url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.exec_driver_sql(statement)
    engine.dispose()


def _await(url: str) -> None:
    for _ in range(200):
        try:
            _run(url, "SELECT 1")
        except Exception:  # not up yet, in whichever way
            time.sleep(0.05)
        else:
            return
    raise TimeoutError("the private PostgreSQL did not come up")


def _program(name: str) -> str | None:
    found = shutil.which(name)
    installed = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    return found or (str(installed[-1]) if installed else None)


def _servant() -> str | None:
    for name in ("postgres", "nobody"):
        try:
            pwd.getpwnam(name)
        except KeyError:
            continue
        return name
    return None
