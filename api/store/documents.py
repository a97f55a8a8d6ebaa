"""Requests, results and comparisons of plans, compressed."""

from __future__ import annotations

import zlib
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.store.models import DocumentRow


class DocumentKind(StrEnum):
    """What a plan has; one that goes on from another plan has what that one left it as well."""

    REQUEST = "request"
    FOLLOWS = "follows"
    RESULT = "result"
    COMPARED = "compared"
    GROWTH = "growth"


def put_document(session: Session, plan_id: str, kind: DocumentKind, text: str) -> None:
    """Keep a document of a plan."""
    session.add(DocumentRow(plan_id=plan_id, kind=kind.value, body=zlib.compress(text.encode(), 3)))


def has_document(session: Session, plan_id: str, kind: DocumentKind) -> bool:
    """Whether a plan has such a document."""
    there = select(DocumentRow.kind).where(DocumentRow.plan_id == plan_id, DocumentRow.kind == kind.value)
    return session.execute(there).first() is not None


def get_document(session: Session, plan_id: str, kind: DocumentKind) -> str | None:
    """Give a document of a plan; None when there is none."""
    row = session.get(DocumentRow, (plan_id, kind.value))
    return zlib.decompress(row.body).decode() if row else None
