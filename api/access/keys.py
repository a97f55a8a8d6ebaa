"""API keys: made once, shown once, kept as digests."""

from __future__ import annotations

import hashlib
import hmac
import secrets
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.store.models import KeyRow

_PREFIX = "nest"
_LABEL_LENGTH = 60


class Scope(StrEnum):
    """
    What a key opens.

    ``read`` looks, ``plan`` also plans and releases, ``shop`` also reports from the saw and keeps
    stock and rack, ``admin`` does everything, families and prices included.
    """

    READ = "read"
    PLAN = "plan"
    SHOP = "shop"
    ADMIN = "admin"


@dataclass(frozen=True, slots=True)
class Caller:
    """Whoever sent a request: the key's id and label, or the people at this machine."""

    id: str
    label: str
    scopes: frozenset[Scope]

    def may(self, scope: Scope) -> bool:
        """Whether the caller may do what the scope stands for; every key may look."""
        return scope is Scope.READ or scope in self.scopes or Scope.ADMIN in self.scopes


LOCAL = Caller("local", "this machine", frozenset(Scope))


@dataclass(frozen=True, slots=True)
class NewKey:
    """A key just made; ``text`` is the only time it is seen."""

    id: str
    text: str


def make_key(session: Session, label: str, scopes: Collection[Scope], now: int) -> NewKey:
    """
    Make a key.

    Its secret has 256 random bits, so a plain SHA-256 of it (FIPS 180-4) cannot be searched through;
    a slow password hash would only slow every request down.
    """
    identity, secret = secrets.token_hex(6), secrets.token_urlsafe(32)
    text = f"{_PREFIX}_{identity}_{secret}"
    words = " ".join(sorted(scope.value for scope in scopes))
    row = KeyRow(id=identity, label=label[:_LABEL_LENGTH], digest=_digest(text), scopes=words, made_at=now)
    session.add(row)
    return NewKey(identity, text)


def revoke_key(session: Session, identity: str, now: int) -> bool:
    """Make a key worthless; False when there is no such key in force."""
    row = session.get(KeyRow, identity, with_for_update=True)
    if row is None or row.revoked_at is not None:
        return False
    row.revoked_at = now
    return True


def list_keys(session: Session) -> Sequence[KeyRow]:
    """Give every key ever made, oldest first."""
    return session.scalars(select(KeyRow).order_by(KeyRow.made_at, KeyRow.id)).all()


def any_key(session: Session) -> bool:
    """Whether any key is in force."""
    return session.execute(select(KeyRow.id).where(KeyRow.revoked_at.is_(None)).limit(1)).first() is not None


def caller_of(session: Session, text: str) -> Caller | None:
    """Give the caller a key belongs to; None when it opens nothing."""
    prefix, _, rest = text.partition("_")
    identity, _, secret = rest.partition("_")
    row = session.get(KeyRow, identity) if prefix == _PREFIX and secret and len(identity) <= 16 else None
    # An unknown id costs the same comparison, so the time says nothing about which ids there are.
    kept = row.digest if row else _digest("")
    same = hmac.compare_digest(_digest(text), kept)
    if row is None or not same or row.revoked_at is not None:
        return None
    return Caller(row.id, row.label, frozenset(Scope(word) for word in row.scopes.split()))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
