"""
What can go wrong, as values that say where.

Tree of the exceptions::

    NestingError
    |-- LengthNotUnderstood   a text that is no length, or could be several
    |-- MoneyNotUnderstood    a text that is no amount
    |-- ProblemError          a value that cannot exist (negative kerf, empty bar)
    |-- InputRefused          a run list, request or option with errors; carries all findings
    `-- SolverFault           the engine broke its promise; never the user's doing
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How a finding binds: ``error`` and ``ask`` refuse the input, the others let it pass."""

    ERROR = "error"
    ASK = "ask"
    WARNING = "warning"
    NOTE = "note"

    @property
    def refuses(self) -> bool:
        """Whether the input cannot be planned while this finding stands."""
        return self in (Severity.ERROR, Severity.ASK)


@dataclass(frozen=True, slots=True)
class Where:
    """
    A place in the user's own coordinates.

    Parameters
    ----------
    source
        Sheet name, file name or ``request``.
    at
        Cell as the user sees it (``C17``), a JSON pointer (``/runs/3/length``) or an option
        (``--kerf``); empty when the whole source is meant.
    """

    source: str
    at: str = ""

    def __str__(self) -> str:
        """Give the place as one word group, e.g. ``Runs!C17``."""
        return f"{self.source}!{self.at}" if self.at else self.source


NOWHERE = Where("request")


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """
    One thing the reader noticed.

    Parameters
    ----------
    severity
        Whether it refuses the input.
    code
        Stable kebab-case name, for programs (``date-in-length``).
    where
        Place in the user's coordinates.
    found
        The raw text or value met there.
    message
        What it means and what would be accepted, one or two plain sentences.
    """

    severity: Severity
    code: str
    where: Where
    found: str
    message: str

    def __str__(self) -> str:
        """Give one line for a terminal."""
        met = f" found {self.found!r}:" if self.found else ""
        return f"{self.severity.value} {self.where}:{met} {self.message}"


class NestingError(Exception):
    """Anything this library raises on purpose."""


class LengthNotUnderstood(NestingError):
    """
    A text that is no length, or that could be several.

    Parameters
    ----------
    found
        The raw text.
    expected
        What would be accepted, in plain words.
    code
        Stable kebab-case name of the reason (``ambiguous-separator``, ``no-unit``, ...).
    readings
        The lengths it could mean, as texts, when there are several.
    """

    def __init__(
        self, found: str, expected: str, *, code: str = "not-a-length", readings: tuple[str, ...] = ()
    ) -> None:
        self.found, self.expected, self.code, self.readings = found, expected, code, readings
        super().__init__(f"{found!r} is not understood as a length: {expected}")


class MoneyNotUnderstood(NestingError):
    """A text that is no amount of money."""

    def __init__(self, found: str, expected: str) -> None:
        self.found, self.expected = found, expected
        super().__init__(f"{found!r} is not understood as an amount: {expected}")


class ProblemError(NestingError):
    """A value that cannot exist in a shop, e.g. a negative kerf."""


class InputRefused(NestingError):
    """An input with at least one finding that refuses it; carries every finding."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        self.findings = findings
        count = sum(1 for f in findings if f.severity.refuses)
        super().__init__(f"input refused: {count} finding(s) must be settled first")


class SolverFault(NestingError):
    """An engine broke its promise, e.g. a plan that fails its audit."""
