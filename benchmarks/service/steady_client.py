"""A client that does not give up: it asks again, under the same key, until it has an answer."""

from __future__ import annotations

import http.client
import json
import time
import uuid
from typing import Any

PATIENCE = 90.0


class NoAnswer(Exception):
    """Nothing came back for a long time."""


class SteadyClient:
    """
    Sends requests to a service that may be killed at any moment.

    Parameters
    ----------
    port
        Where it listens on loopback.
    """

    def __init__(self, port: int) -> None:
        self._port = port

    def ask(self, method: str, path: str, body: object = None) -> tuple[int, Any]:
        """
        Give the status and the values of the answer.

        Raises
        ------
        NoAnswer
            When there is none however often one asks.
        """
        data = body if isinstance(body, str) else json.dumps(body or {})
        headers = {"Content-Type": "application/json"}
        if method == "POST":
            headers["Idempotency-Key"] = uuid.uuid4().hex
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            try:
                status, values = self._once(method, path, data, headers)
            except (OSError, http.client.HTTPException, ValueError):
                time.sleep(0.05)
                continue
            if status != 503:
                return status, values
            time.sleep(0.1)
        raise NoAnswer(f"{method} {path}")

    def _once(self, method: str, path: str, data: str, headers: dict[str, str]) -> tuple[int, Any]:
        connection = http.client.HTTPConnection("127.0.0.1", self._port, timeout=30)
        try:
            connection.request(method, path, data if method != "GET" else None, headers)
            answer = connection.getresponse()
            return answer.status, json.loads(answer.read() or b"null")
        finally:
            connection.close()
