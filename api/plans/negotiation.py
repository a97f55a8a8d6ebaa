"""Which of the offered media types a caller likes best (RFC 9110, section 12.5.1)."""

from __future__ import annotations

from collections.abc import Sequence

from api.web.problems import Problem

_LONGEST = 1_000


def best_type(accept: str | None, offered: Sequence[str]) -> str:
    """
    Give the offered type with the highest weight, the first one offered when several have it.

    Raises
    ------
    Problem
        When none of them is acceptable.
    """
    if not accept or not accept.strip():
        return offered[0]
    ranges = [_range(part) for part in accept[:_LONGEST].split(",") if part.strip()]
    best = max(offered, key=lambda kind: _weight(kind, ranges))
    if _weight(best, ranges) <= 0:
        raise Problem(406, "not-acceptable", f"Offered are {', '.join(offered)}.")
    return best


def _range(part: str) -> tuple[str, float]:
    kind, *parameters = (word.strip() for word in part.split(";"))
    weight = 1.0
    for parameter in parameters:
        name, _, value = parameter.partition("=")
        if name.strip().lower() == "q":
            try:
                weight = min(max(float(value), 0.0), 1.0)
            except ValueError:
                weight = 0.0
    return kind.lower(), weight


def _weight(kind: str, ranges: Sequence[tuple[str, float]]) -> float:
    """Give the weight of the most specific range that matches."""
    family = kind.partition("/")[0] + "/*"
    for pattern in (kind, family, "*/*"):
        weights = [weight for met, weight in ranges if met == pattern]
        if weights:
            return max(weights)
    return 0.0
