"""
Pure ASGI layers in front of everything: sizes, rates, hosts, headers, the last net for errors.

Kept free of the framework's request objects: they see every byte of every request.
"""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Iterable
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from api.web.problems import Problem, unexpected

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
_BASE_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
_DATA_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'; sandbox",
    "Cache-Control": "no-store",
}
_PAGE_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; "
    "img-src 'self' data:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
}


class SecurityHeaders:
    """Adds the headers that keep browsers from doing more with an answer than show it."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, the answer with headers."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        own = _DATA_HEADERS if scope["path"].startswith("/v1") else _PAGE_HEADERS

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                if headers.get("content-type", "").startswith("text/html"):
                    # A form's origin is sent as null where no referrer is allowed, and looks foreign.
                    headers.setdefault("Referrer-Policy", "same-origin")
                for name, value in (_BASE_HEADERS | own).items():
                    headers.setdefault(name, value)
            await send(message)

        await self._app(scope, receive, with_headers)


class LastNet:
    """Turns an exception nobody handled into problem details without a word of its cause."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on."""
        started = False

        async def noted(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await send(message)

        try:
            await self._app(scope, receive, noted)
        except Exception as why:
            if scope["type"] != "http" or started:
                raise
            await unexpected(why)(scope, receive, send)


class KnownHosts:
    """
    Refuses requests that were meant for somebody else, or were sent by somebody else's page.

    A page anywhere can make a visitor's browser call this machine; the browser tells by ``Host``,
    ``Origin`` and ``Sec-Fetch-Site``.

    Parameters
    ----------
    hosts
        Names without port; empty accepts any (keys are required then).
    """

    def __init__(self, app: ASGIApp, hosts: Iterable[str]) -> None:
        self._app, self._hosts = app, frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or refuse it."""
        if scope["type"] == "http" and (refusal := self._refusal(scope)):
            await refusal.response()(scope, receive, send)
            return
        await self._app(scope, receive, send)

    def _refusal(self, scope: Scope) -> Problem | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if self._hosts and _name(host) not in self._hosts:
            return Problem(421, "unknown-host", "This service is not reached by that name.")
        if scope["method"] in SAFE_METHODS:
            return None
        foreign = headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none")
        origin = headers.get("origin")
        if foreign or (origin and origin.partition("://")[2] != host):
            return Problem(403, "foreign-page", "Pages of other sites may not change anything here.")
        return None


def _name(host: str) -> str:
    """Give the host without its port; an IPv6 address keeps its brackets."""
    if host.startswith("["):
        return host.partition("]")[0] + "]"
    return host.partition(":")[0].lower()


class BodyLimit:
    """Refuses bodies that are too large, also those that do not say how large they are."""

    def __init__(self, app: ASGIApp, *, json_bytes: int, upload_bytes: int) -> None:
        self._app, self._json, self._upload = app, json_bytes, upload_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, its body counted."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        small = "json" in headers.get("content-type", "json")
        limit = self._json if small else self._upload
        declared = headers.get("content-length", "0")
        if not declared.isdecimal() or int(declared) > limit:
            await _too_large(limit).response()(scope, receive, send)
            return
        seen = 0

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            if message["type"] == "http.request":
                seen += len(message.get("body", b""))
                if seen > limit:
                    raise _too_large(limit)
            return message

        await self._app(scope, counted, send)


def _too_large(limit: int) -> Problem:
    # The rest of the body is not read, so the connection cannot be used again.
    detail = f"At most {limit} bytes are accepted."
    return Problem(413, "too-large", detail, headers={"Connection": "close"})


class RateLimit:
    """
    Lets each address do so many requests a second, with some in reserve (a token bucket).

    Runs before any key is looked at, so guessing keys is limited too.

    Parameters
    ----------
    rate
        Requests a second; 0 for no limit.
    burst
        Requests in reserve.
    """

    REMEMBERED = 10_000

    def __init__(self, app: ASGIApp, *, rate: float, burst: int) -> None:
        self._app, self._rate, self._burst = app, rate, burst
        self._buckets: OrderedDict[str, tuple[float, float]] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or tell when to come back."""
        if scope["type"] == "http" and self._rate and not scope["path"].startswith("/healthz"):
            caller = scope["client"][0] if scope.get("client") else ""
            wait = self._wait(caller, time.monotonic())
            if wait:
                headers = {"Retry-After": str(int(wait) + 1)}
                detail = f"More than {self._rate:g} requests a second came from your address."
                await Problem(429, "too-many-requests", detail, headers=headers).response()(
                    scope, receive, send
                )
                return
        await self._app(scope, receive, send)

    def _wait(self, caller: str, now: float) -> float:
        """Give the seconds until the caller may ask again; 0 takes a token."""
        tokens, at = self._buckets.pop(caller, (float(self._burst), now))
        tokens = min(self._burst, tokens + (now - at) * self._rate)
        allowed = tokens >= 1
        self._buckets[caller] = (tokens - 1 if allowed else tokens, now)
        if len(self._buckets) > self.REMEMBERED:
            self._buckets.popitem(last=False)
        return 0.0 if allowed else (1 - tokens) / self._rate


def wrap(app: Any, *layers: tuple[Any, dict[str, Any]]) -> None:
    """Put layers around an application, the first one outermost."""
    for layer, options in reversed(layers):
        app.add_middleware(layer, **options)
