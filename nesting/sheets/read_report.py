"""The echo of a run list: what each row said, how it was read, and what was passed over."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.errors import Finding, InputRefused, Where
from nesting.sheets.cells import Sheet
from nesting.units import Length, inch_text, mm_text


class Verdict(StrEnum):
    """How a row came through: read, read with a warning, to be settled by a person, or passed over."""

    OK = "ok"
    WARN = "warn"
    ASK = "ask"
    SKIP = "skip"


@dataclass(frozen=True, slots=True, kw_only=True)
class RowEcho:
    """
    One row of the list.

    Parameters
    ----------
    where
        The length cell of a row that was read, the first filled cell of one that was not.
    raw
        What stood there.
    id
        Run or piece the row became; empty when it became none.
    quantity
        Fixtures or pieces of the row; 0 when it was not read.
    length
        As read; None when it was not.
    defaults
        What the row did not say and was taken from elsewhere, in words.
    reason
        Why it was passed over or must be settled.
    """

    where: Where
    raw: str
    verdict: Verdict
    id: str = ""
    quantity: int = 0
    length: Length | None = None
    defaults: tuple[str, ...] = ()
    reason: str = ""

    @property
    def mm(self) -> str:
        """The reading in millimetres; empty when there is none."""
        return "" if self.length is None else mm_text(self.length)

    @property
    def inch(self) -> str:
        """The reading in inches, ``~`` before a rounded one; empty when there is none."""
        return "" if self.length is None else inch_text(self.length)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadEcho:
    """Every filled row of the list below its header, in order."""

    rows: tuple[RowEcho, ...] = ()

    @property
    def runs(self) -> int:
        """Rows that became a run or a piece line."""
        return sum(1 for row in self.rows if row.id)

    @property
    def pieces(self) -> int:
        """Fixtures and pieces, quantities counted."""
        return sum(row.quantity for row in self.rows)

    @property
    def skipped(self) -> int:
        """Rows passed over, each with its reason."""
        return sum(1 for row in self.rows if row.verdict is Verdict.SKIP)

    def __str__(self) -> str:
        """Give the totals in one line."""
        return f"{len(self.rows)} rows, {self.runs} runs, {self.pieces} pieces, {self.skipped} skipped"


def echo_of(request: Request) -> ReadEcho:
    """Give the echo of a request that came as a document: every run and piece line, each read as it says."""
    lines: tuple[Run | PieceLine, ...] = (*request.runs, *request.piece_lines)
    return ReadEcho(
        rows=tuple(
            RowEcho(
                where=line.where,
                raw=mm_text(line.length),
                verdict=Verdict.OK,
                id=line.id,
                quantity=line.quantity,
                length=line.length,
            )
            for line in lines
        )
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadOutcome:
    """
    What came of reading.

    Parameters
    ----------
    request
        None when a finding refuses the list.
    sheets
        The list's own sheets, corrected cells in their places.
    """

    request: Request | None
    findings: tuple[Finding, ...]
    echo: ReadEcho
    sheets: tuple[Sheet, ...] = ()

    def accepted(self) -> Request:
        """
        Give the request.

        Raises
        ------
        InputRefused
            When a finding refuses the list.
        """
        if self.request is None:
            raise InputRefused(self.findings)
        return self.request
