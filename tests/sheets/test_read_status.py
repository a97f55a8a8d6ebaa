"""How sure a size is, in the words of lists."""

from __future__ import annotations

import pytest

from nesting.domain.status import Status
from nesting.errors import Where
from nesting.sheets.cells import Cell, CellKind
from nesting.sheets.findings import Findings
from nesting.sheets.read_status import status_of


@pytest.mark.parametrize(
    ("text", "status", "code"),
    [
        ("", Status.MEASURED, None),
        ("Site measured", Status.MEASURED, None),
        ("from drawing", Status.DRAWING, "size-not-verified"),
        ("VIF", Status.VERIFY, "size-not-verified"),
        ("on hold", Status.HOLD, "on-hold"),
        ("perhaps", Status.VERIFY, "status-not-understood"),
    ],
)
def test_a_size_counts_as_measured_only_where_somebody_says_so(
    text: str, status: Status, code: str | None
) -> None:
    """What nobody understands must not reach a saw as a measured size."""
    findings = Findings()
    cell = Cell(row=2, column=3, kind=CellKind.TEXT if text else CellKind.EMPTY, raw=text)
    assert status_of(cell, Where("Runs", "C2"), findings) is status
    assert [finding.code for finding in findings.all] == ([code] if code else [])
