"""Collecting everything a reader notices, so that a person can settle it all at once."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.errors import Finding, InputRefused, Severity, Where

_SHOWN = 8


class Findings:
    """A growing list of findings."""

    def __init__(self) -> None:
        self._all: list[Finding] = []

    def add(self, severity: Severity, code: str, where: Where, found: str, message: str) -> None:
        """Note one finding; ``found`` is cut to what a line can show."""
        shown = found if len(found) <= 120 else f"{found[:117]}..."
        finding = Finding(severity=severity, code=code, where=where, found=shown, message=message)
        if finding not in self._all[-50:]:
            self._all.append(finding)

    def error(self, code: str, where: Where, found: str, message: str) -> None:
        """Note what refuses the input."""
        self.add(Severity.ERROR, code, where, found, message)

    def ask(self, code: str, where: Where, found: str, message: str) -> None:
        """Note what only a person can decide; refuses the input."""
        self.add(Severity.ASK, code, where, found, message)

    def warning(self, code: str, where: Where, found: str, message: str) -> None:
        """Note what passes but should be looked at."""
        self.add(Severity.WARNING, code, where, found, message)

    def note(self, code: str, where: Where, found: str, message: str) -> None:
        """Note what was done, e.g. a default used."""
        self.add(Severity.NOTE, code, where, found, message)

    @property
    def all(self) -> tuple[Finding, ...]:
        """Every finding so far, in the order met."""
        return tuple(self._all)

    def __len__(self) -> int:
        """Count the findings so far."""
        return len(self._all)

    def since(self, count: int) -> tuple[Finding, ...]:
        """Give the findings noted after there were ``count``."""
        return tuple(self._all[count:])

    @property
    def refuses(self) -> bool:
        """Whether any finding refuses the input."""
        return any(finding.severity.refuses for finding in self._all)

    def stop(self) -> InputRefused:
        """Give the refusal that carries every finding, to be raised."""
        return InputRefused(self.all)


def listed(names: Sequence[str]) -> str:
    """Give names in a row, the first few when there are many: ``C3, C4 and 7 more``."""
    if len(names) <= _SHOWN:
        return ", ".join(names)
    return f"{', '.join(names[:_SHOWN])} and {len(names) - _SHOWN} more"
