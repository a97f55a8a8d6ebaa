"""What endpoints are given, by name."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.security import HTTPAuthorizationCredentials, HTTPBearer

from api.access.keys import LOCAL, Caller, Scope, caller_of
from api.plans.comparing import Comparisons
from api.processes.clerk import Clerks
from api.settings import Settings
from api.store.engine import Store
from api.web.metrics import Metrics
from api.web.problems import Problem
from api.web.shields import SAFE_METHODS
from api.worker.beside import Beside, Notices
from nesting.units import Unit


class Waiting:
    """Counts who waits or listens, so that no crowd of them can use everything up."""

    def __init__(self, most: int) -> None:
        self._left = most

    def acquire(self) -> bool:
        """Take a place; False when there is none. On the event loop only."""
        if self._left <= 0:
            return False
        self._left -= 1
        return True

    def release(self) -> None:
        """Give the place back."""
        self._left += 1


@dataclass(slots=True)
class Service:
    """Everything an application holds while it runs."""

    settings: Settings
    store: Store
    clerks: Clerks
    notices: Notices
    metrics: Metrics
    waiting: Waiting
    beside: Beside | None
    comparisons: Comparisons

    def poke(self) -> None:
        """Tell the worker beside this server, if there is one, that there is something to do."""
        if self.beside:
            self.beside.poke()


async def get_service(request: Request) -> Service:
    """Give the running service."""
    service = request.app.state.service
    assert isinstance(service, Service)
    return service


Running = Annotated[Service, Depends(get_service)]

KEY_COOKIE = "key"
"""Cookie in which browsers keep a key after signing in."""

_bearer = HTTPBearer(
    auto_error=False, scheme_name="key", description="An API key made by `nesting key make`."
)
Bearer = Annotated[HTTPAuthorizationCredentials | None, Depends(_bearer)]


async def get_caller(request: Request, service: Running, bearer: Bearer) -> Caller:
    """Give whoever sent the request."""
    kept = _kept_key(request)
    if bearer is None and (not kept or not service.settings.keys_required):
        if service.settings.keys_required or "authorization" in request.headers:
            raise _unknown()
        return LOCAL
    caller = await run_in_threadpool(_look_up, service.store, bearer.credentials if bearer else kept)
    if caller is None:
        raise _unknown()
    return caller


def _kept_key(request: Request) -> str:
    """Give the key a browser sent along by itself; to change anything it must say whose page sent it."""
    if "authorization" in request.headers:
        return ""
    named = "origin" in request.headers or "sec-fetch-site" in request.headers
    return request.cookies.get(KEY_COOKIE, "") if request.method in SAFE_METHODS or named else ""


def _look_up(store: Store, text: str) -> Caller | None:
    with store.read() as session:
        return caller_of(session, text)


def _unknown() -> Problem:
    detail = "A valid API key is needed: Authorization: Bearer <key>."
    return Problem(401, "key-needed", detail, headers={"WWW-Authenticate": "Bearer"})


def _needs(scope: Scope) -> Callable[[Caller], Awaitable[Caller]]:
    async def check(caller: Annotated[Caller, Depends(get_caller)]) -> Caller:
        if not caller.may(scope):
            raise Problem(403, "scope-missing", f"This key lacks the scope {scope.value!r}.")
        return caller

    return check


Reader = Annotated[Caller, Depends(_needs(Scope.READ))]
Planner = Annotated[Caller, Depends(_needs(Scope.PLAN))]
ShopHand = Annotated[Caller, Depends(_needs(Scope.SHOP))]
Admin = Annotated[Caller, Depends(_needs(Scope.ADMIN))]

UnitAsked = Annotated[Unit, Query(alias="unit", description="Unit of the lengths' texts.")]
