"""Safe repetition: a request with an idempotency key is done once and answered alike each time."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import Header
from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from api.store.models import ReplyRow
from api.web.problems import Problem

KEPT_DAYS = 7

IdempotencyKey = Annotated[
    str | None,
    Header(
        alias="Idempotency-Key",
        min_length=1,
        max_length=200,
        description="Any text of your own that names this one request; sending it again changes nothing.",
    ),
]


@dataclass(frozen=True, slots=True)
class Reply:
    """What was answered."""

    status: int
    body: Any
    location: str = ""


def digest(*parts: str | bytes) -> str:
    """Give a digest that tells one request from another."""
    total = hashlib.sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        total.update(len(data).to_bytes(8, "big") + data)
    return total.hexdigest()


def earlier_reply(session: Session, caller: str, key: str | None, asked: str) -> Reply | None:
    """
    Give what the same request was answered before; None when it is new.

    Raises
    ------
    Problem
        When the key was used for another request.
    """
    if key is None:
        return None
    if session.get_bind().dialect.name == "postgresql":
        # The same request twice at once: the second waits for the first one's answer.
        session.execute(select(func.pg_advisory_xact_lock(func.hashtextextended(f"{caller} {key}", 0))))
    row = session.get(ReplyRow, (caller, key))
    if row is None:
        return None
    if row.digest != asked:
        detail = "This Idempotency-Key was used for another request; give each request its own."
        raise Problem(422, "idempotency-key-reused", detail)
    return Reply(row.status, json.loads(row.body), row.location)


def keep_reply(session: Session, caller: str, key: str | None, asked: str, reply: Reply, now: int) -> None:
    """Keep an answer in the transaction that did what it tells of."""
    if key is None:
        return
    session.execute(delete(ReplyRow).where(ReplyRow.at < now - KEPT_DAYS * 86_400_000_000))
    session.add(
        ReplyRow(
            caller=caller,
            key=key,
            digest=asked,
            status=reply.status,
            location=reply.location,
            body=json.dumps(reply.body),
            at=now,
        )
    )
