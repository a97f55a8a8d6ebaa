"""One change to a thing that has versions: locked, seen by the caller, written with the ledger, told anew."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeVar

from fastapi import Response
from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.deps import Service
from api.web.preconditions import etag, require_match


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
) -> Thing:
    """
    Change a thing in one transaction, if its caller has seen it as it is; the answer gets its new ETag.

    Parameters
    ----------
    find
        Gives the thing, locked.
    do
        Changes it; is told by whom and when.
    needed
        Whether the caller must say which version it has seen.

    Raises
    ------
    Problem
        When there is no such thing, or it has been changed since.
    StockConflict
        When the change cannot be made with a thing that stands so.
    """
    with service.store.write() as session:
        thing = find(session)
        require_match(if_match, thing.version, needed=needed)
        do(session, thing, caller.label, service.store.now(session))
    response.headers["ETag"] = etag(thing.version)
    return thing
