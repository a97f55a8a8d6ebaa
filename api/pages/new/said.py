"""What the reader of lists noticed, in words for somebody at a screen, with the cell it is about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from api.web.wording import PAGES, worded
from nesting.errors import Finding, Severity, Where
from nesting.sheets.cells import Sheet, cell_position

_WORDS = {
    Severity.ERROR: "Wrong",
    Severity.ASK: "To settle",
    Severity.WARNING: "Look",
    Severity.NOTE: "Note",
}


@dataclass(frozen=True, slots=True)
class Said:
    """
    One thing that was noticed.

    Parameters
    ----------
    found
        What was met there.
    text
        What stands in its cell; None when it is about no cell that can be corrected here.
    """

    severity: Severity
    code: str
    where: Where
    found: str
    text: str | None
    message: str

    @property
    def word(self) -> str:
        """How it binds, in a word."""
        return _WORDS[self.severity]

    @property
    def option(self) -> str:
        """The field of the page it is about; empty when it is about the list."""
        at = self.where.at
        return at[2:].replace("-", "_") if at.startswith("--") else ""


def said_of(findings: Sequence[Finding], sheets: Sequence[Sheet]) -> Iterator[Said]:
    """Give what was noticed, with the text of each cell it is about."""
    rows = {(sheet.name, row.number): row for sheet in sheets for row in sheet.rows}
    names = {sheet.name for sheet in sheets}
    for finding in findings:
        where = finding.where
        position = cell_position(where.at) if where.source in names else None
        text: str | None = None
        if position is not None:
            row = rows.get((where.source, position[0]))
            text = row.cell(position[1]).raw if row else ""
        message = worded(finding.message, PAGES)
        yield Said(finding.severity, finding.code, where, finding.found, text, message)


def default_words(words: str) -> str:
    """Give what a row took by default, ``left_end: solid cap``, as one says it: ``left end: solid cap``."""
    name, colon, value = words.rstrip(",").partition(":")
    return f"{name.replace('_', ' ')}{colon}{value}"
