"""The ``Prefer`` header (RFC 7240)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Preference:
    """How long a caller would wait for the answer, seconds, and what to say was heeded."""

    wait: float = 0.0
    applied: str = ""

    @property
    def given(self) -> bool:
        """Whether a preference was heeded."""
        return bool(self.applied)


def read_prefer(header: str | None) -> Preference:
    """Read ``wait=N`` and ``respond-async``; what is not understood is ignored, as the standard asks."""
    words = [word.strip().lower() for word in (header or "").replace(";", ",").split(",")]
    for word in words:
        name, _, value = word.partition("=")
        value = value.strip().strip('"')
        if name.strip() == "wait" and value.isdecimal() and len(value) <= 6:
            return Preference(float(value), f"wait={int(value)}")
    return Preference(0.0, "respond-async" if "respond-async" in words else "")
