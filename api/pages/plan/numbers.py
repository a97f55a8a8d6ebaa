"""Numbers of bars as people write them: ``3, 7-9``."""

from __future__ import annotations

import re

_SPAN = re.compile(r"(\d{1,9})(?:\s*(?:-|\N{EN DASH}|to)\s*(\d{1,9}))?")
MOST = 10_000


def bar_numbers(text: str) -> tuple[int, ...]:
    """
    Give the numbers a text names, ascending, each once; none for an empty text.

    Raises
    ------
    ValueError
        When it is not understood; says what would be.
    """
    found: set[int] = set()
    for part in re.split(r"[,;]|\band\b", text):
        span = _SPAN.fullmatch(part.strip())
        if span is None:
            if part.strip():
                raise ValueError(f"{part.strip()[:40]!r} is no number of a bar; write 3, 7-9.")
            continue
        first, last = int(span[1]), int(span[2] or span[1])
        if last < first or last - first >= MOST:
            raise ValueError(f"{part.strip()[:40]!r} is no span of bars; write 7-9, smaller first.")
        found.update(range(first, last + 1))
    return tuple(sorted(found))
