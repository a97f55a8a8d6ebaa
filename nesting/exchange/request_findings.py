"""What an earlier reader noticed, as JSON objects, each with its place in the user's own list."""

from __future__ import annotations

from typing import Any, ClassVar

from nesting.errors import Finding, Severity, Where
from nesting.exchange.request_part import RequestPart


class WherePart(RequestPart):
    """Where a line stood in the user's own list."""

    domain: ClassVar[type] = Where

    source: str
    """Sheet or file name."""
    at: str = ""
    """Cell, such as C17, or JSON pointer."""


class FindingPart(RequestPart):
    """One thing the reader noticed."""

    domain: ClassVar[type] = Finding

    severity: Severity
    """Whether it refuses the input: error and ask do."""
    code: str
    """Stable name for programs."""
    where: WherePart
    """Place in the user's own list."""
    found: str = ""
    """The raw text met there."""
    message: str
    """What it means."""

    def values(self) -> dict[str, Any]:
        """Keep an empty text where nothing was found."""
        return {**super().values(), "found": self.found}
