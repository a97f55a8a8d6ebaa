"""Which workers there are."""

from __future__ import annotations

import os
import secrets
import socket

from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from api.store.engine import Store
from api.store.models import WorkerRow

FORGOTTEN_SECONDS = 600


def new_name() -> str:
    """Give a name no other worker has or had."""
    return f"{socket.gethostname()[:32]}-{os.getpid()}-{secrets.token_hex(4)}"


def beat(store: Store, worker: str, solvers: int) -> None:
    """Say that a worker lives, and forget those that have long been silent."""
    with store.write() as session:
        now = store.now(session)
        row = session.get(WorkerRow, worker)
        if row is None:
            host, process = socket.gethostname(), os.getpid()
            session.add(
                WorkerRow(id=worker, host=host, process=process, solvers=solvers, started_at=now, beat_at=now)
            )
        else:
            row.beat_at = now
        session.execute(delete(WorkerRow).where(WorkerRow.beat_at < now - FORGOTTEN_SECONDS * 1_000_000))


def leave(store: Store, worker: str) -> None:
    """Say that a worker goes."""
    with store.write() as session:
        session.execute(delete(WorkerRow).where(WorkerRow.id == worker))


def count_alive(session: Session, now: int, silent_seconds: float) -> int:
    """Give the number of workers heard of within the last so many seconds."""
    since = now - int(silent_seconds * 1_000_000)
    counted = session.execute(select(func.count()).select_from(WorkerRow).where(WorkerRow.beat_at >= since))
    return counted.scalar_one()
