"""One change to a thing that has versions: locked, seen by the caller, written with the ledger, told anew."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeVar

from fastapi import Response
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.deps import Service
from api.web.preconditions import etag, require_match
from api.web.replies import Reply, earlier_reply, keep_reply


class Versioned(Protocol):
    """A thing with a version that every change raises."""

    @property
    def version(self) -> int:
        """The version that is there now."""


Thing = TypeVar("Thing", bound=Versioned)


def change_once_seen(
    service: Service,
    caller: Caller,
    response: Response,
    if_match: str | None,
    *,
    find: Callable[[Session], Thing],
    do: Callable[[Session, Thing, str, int], object],
    needed: bool = True,
    key: str | None = None,
    asked: str = "",
) -> Thing:
    """
    Change a thing in one transaction, if its caller has seen it as it is; the answer gets its new ETag.

    The same request sent again under its key changes nothing and is answered with the thing as it is now.

    Parameters
    ----------
    find
        Gives the thing, locked.
    do
        Changes it; is told by whom and when.
    needed
        Whether the caller must say which version it has seen.

    key, asked
        Idempotency key of the request, and a digest of what it asks for.

    Raises
    ------
    Problem
        When there is no such thing, it has been changed since, or the key was used for another request.
    StockConflict
        When the change cannot be made with a thing that stands so.
    """
    with service.store.write() as session:
        done_before = earlier_reply(session, caller.id, key, asked)
        thing = find(session)
        if not done_before:
            now = service.store.now(session)
            require_match(if_match, thing.version, needed=needed)
            do(session, thing, caller.label, now)
            keep_reply(session, caller.id, key, asked, Reply(200, None), now)
    response.headers["ETag"] = etag(thing.version)
    return thing
