"""Refusals as pages: whoever asked for a page gets one, whatever layer of the service refused."""

from __future__ import annotations

from urllib.parse import quote

from fastapi import Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from api.pages.preferences import preferences_of
from api.pages.visit import page_for
from api.web.problems import MEDIA_TYPE, ProblemRead

_NOT_PAGES = ("/v1", "/healthz", "/readyz", "/metrics", "/static")


class ErrorPages:
    """Turns problem details into a page where a browser asked for one; a missing key into signing in."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on."""
        if scope["type"] != "http" or not _wants_page(scope):
            await self._app(scope, receive, send)
            return
        refusal: Message | None = None
        body = b""

        async def held_back(message: Message) -> None:
            nonlocal refusal, body
            if message["type"] == "http.response.start" and _is_problem(message):
                refusal = message
            elif refusal is None:
                await send(message)
            else:
                body += message.get("body", b"")

        await self._app(scope, receive, held_back)
        if refusal is not None:
            await _page(Request(scope), refusal, ProblemRead.model_validate_json(body))(scope, receive, send)


def _wants_page(scope: Scope) -> bool:
    return "text/html" in Headers(scope=scope).get("accept", "") and not scope["path"].startswith(_NOT_PAGES)


def _is_problem(message: Message) -> bool:
    return Headers(raw=message["headers"]).get("content-type", "").startswith(MEDIA_TYPE)


def _page(request: Request, refusal: Message, problem: ProblemRead) -> Response:
    status = int(refusal["status"])
    if status == 401:
        wanted = request.url.path if request.method == "GET" else "/"
        return RedirectResponse(f"/sign-in?next={quote(wanted)}", 303)
    answer = page_for(request, preferences_of(request), None, "error.html", status, problem=problem)
    kept = Headers(raw=refusal["headers"])
    for name in ("Retry-After", "Connection"):
        if name in kept:
            answer.headers[name] = kept[name]
    return answer
