"""A plan's result as a value; pages look at it again and again, and it never changes."""

from __future__ import annotations

from functools import lru_cache

from api.store.documents import DocumentKind, get_document
from api.store.engine import Store
from nesting.domain.plan import Plan
from nesting.exchange import read_plan

KEPT = 16
"""Plans kept in memory; one of a whole building takes some 10 MB."""


def result_of(store: Store, plan_id: str) -> Plan | None:
    """Give the result of a plan; None while there is none."""
    try:
        return _read(store, plan_id)
    except LookupError:
        return None


@lru_cache(maxsize=KEPT)
def _read(store: Store, plan_id: str) -> Plan:
    with store.read() as session:
        document = get_document(session, plan_id, DocumentKind.RESULT)
    if document is None:
        raise LookupError(plan_id)  # not kept: it may come
    return read_plan(document)
