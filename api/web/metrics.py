"""Counts for a Prometheus scraper, in its text format 0.0.4."""

from __future__ import annotations

import threading
import time
from collections import Counter
from collections.abc import Iterable

from starlette.types import ASGIApp, Message, Receive, Scope, Send

BUCKETS = (0.005, 0.01, 0.03, 0.1, 0.2, 0.5, 1.0, 5.0, 30.0)


class Metrics:
    """Requests answered and how long they took, since the start of this process."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._requests: Counter[tuple[str, str, int]] = Counter()
        self._buckets: Counter[float] = Counter()
        self._sum = 0.0
        self._count = 0

    def add(self, method: str, route: str, status: int, seconds: float) -> None:
        """Count one answer."""
        with self._lock:
            self._requests[method, route, status] += 1
            self._count += 1
            self._sum += seconds
            for bound in BUCKETS:
                if seconds <= bound:
                    self._buckets[bound] += 1

    def lines(self) -> Iterable[str]:
        """Give the text's lines."""
        with self._lock:
            yield "# HELP nesting_requests_total Answers by method, route and status."
            yield "# TYPE nesting_requests_total counter"
            for (method, route, status), count in sorted(self._requests.items()):
                labels = f'method="{_label(method)}",route="{_label(route)}",status="{status}"'
                yield f"nesting_requests_total{{{labels}}} {count}"
            yield "# HELP nesting_request_seconds Time to the end of the answer."
            yield "# TYPE nesting_request_seconds histogram"
            for bound in BUCKETS:
                yield f'nesting_request_seconds_bucket{{le="{bound:g}"}} {self._buckets[bound]}'
            yield f'nesting_request_seconds_bucket{{le="+Inf"}} {self._count}'
            yield f"nesting_request_seconds_sum {self._sum:.6f}"
            yield f"nesting_request_seconds_count {self._count}"


def gauge(name: str, text: str, values: Iterable[tuple[str, int]]) -> Iterable[str]:
    """Give the lines of a gauge; each value with its labels, written ``state="free"``, or none."""
    yield f"# HELP {name} {text}"
    yield f"# TYPE {name} gauge"
    for labels, value in values:
        yield f"{name}{{{labels}}} {value}" if labels else f"{name} {value}"


def _label(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")


class Measured:
    """Counts every answer that passes."""

    def __init__(self, app: ASGIApp, metrics: Metrics) -> None:
        self._app, self._metrics = app, metrics

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        started, status = time.perf_counter(), 500

        async def noted(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
            await send(message)

        try:
            await self._app(scope, receive, noted)
        finally:
            # The route's pattern, never the path: names of plans and tags are no business of a scraper.
            route = getattr(scope.get("route"), "path", "unmatched")
            method = scope["method"] if len(scope["method"]) <= 10 else "other"
            self._metrics.add(method, route, status, time.perf_counter() - started)
