"""Days as texts: ISO 8601, such as 2027-03-31."""

from __future__ import annotations

from datetime import date

from nesting.errors import ProblemError


def day_of(text: str) -> date:
    """
    Give the day a text names.

    Raises
    ------
    ProblemError
        When it names none.
    """
    try:
        return date.fromisoformat(text)
    except ValueError as why:
        raise ProblemError(f"{text!r} is no date such as 2027-03-31.") from why
