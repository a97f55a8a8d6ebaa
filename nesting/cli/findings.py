"""Findings on the terminal: where, what was found, what would be accepted."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.table import Table

from nesting.errors import Finding

SHOWN = 60


def print_findings(findings: Sequence[Finding], console: Console) -> None:
    """Print what refuses the input first, then the rest, as one table."""
    ordered = sorted(findings, key=lambda finding: not finding.severity.refuses)
    table = Table(box=None, pad_edge=False, show_header=True, header_style="bold")
    for heading in ("", "Where", "Found", "What it means"):
        table.add_column(heading, overflow="fold")
    for finding in ordered[:SHOWN]:
        table.add_row(finding.severity.value, str(finding.where), finding.found, finding.message)
    console.print(table, markup=False)
    if len(ordered) > SHOWN:
        console.print(f"... and {len(ordered) - SHOWN} more.")
    refusing = sum(1 for finding in findings if finding.severity.refuses)
    console.print(f"Input refused: {refusing} finding(s) must be settled first. Nothing was planned.")
