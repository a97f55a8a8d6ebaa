"""Reading problem details in tests."""

from __future__ import annotations

from httpx2 import Response


def problem(answer: Response, status: int) -> str:
    """Check that an answer is a problem of this status; give the end of its type."""
    assert answer.status_code == status, answer.text
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert answer.json()["status"] == status
    return str(answer.json()["type"]).removeprefix("urn:nesting:problem:")
