"""Findings on the terminal: where, what was found, what would be accepted."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rich.console import Console
from rich.table import Table

from nesting.errors import Finding, Severity

SHOWN = 60
WARNINGS_SHOWN = 10
_DEFAULT = re.compile(r"No (?P<what>.+?) is given; (?P<value>.+?) is taken(?:.*Rows: (?P<rows>[0-9]+))?")


def print_findings(findings: Sequence[Finding], console: Console, *, nothing: str) -> None:
    """Print what refuses the input first, then the rest, as one table, and what therefore did not happen."""
    # What was taken for granted matters once there is a plan; here it would hide what must be settled.
    told = [finding for finding in findings if not finding.code.startswith("default-")]
    ordered = sorted(told, key=lambda finding: not finding.severity.refuses)
    table = Table(box=None, pad_edge=False, show_header=True, header_style="bold")
    for heading in ("", "Where", "Found", "What it means"):
        table.add_column(heading, overflow="fold")
    for finding in ordered[:SHOWN]:
        table.add_row(finding.severity.value, str(finding.where), finding.found, finding.message)
    console.print(table, markup=False)
    if len(ordered) > SHOWN:
        console.print(f"... and {len(ordered) - SHOWN} more.")
    refusing = sum(1 for finding in findings if finding.severity.refuses)
    console.print(f"Input refused: {refusing} finding(s) must be settled first. {nothing}")


def print_warnings(findings: Sequence[Finding], console: Console) -> None:
    """Print the first warnings of a plan that was made, and how many more the workbook lists."""
    warnings = [
        finding
        for finding in dict.fromkeys(findings)
        if finding.severity is Severity.WARNING and not finding.code.startswith("default-")
    ]
    for finding in warnings[:WARNINGS_SHOWN]:
        found = f" {finding.found!r}:" if finding.found else ""
        console.print(f"Warning, {finding.where}:{found} {finding.message}", markup=False)
    if len(warnings) > WARNINGS_SHOWN:
        console.print(f"{len(warnings) - WARNINGS_SHOWN} more in the Findings sheet.")


def granted(findings: Sequence[Finding]) -> str:
    """Give in one sentence what the input did not say and was taken for granted; empty when it said all."""
    lines: dict[str, int] = {}
    saw: list[str] = []
    for finding in dict.fromkeys(findings):
        match = _DEFAULT.match(finding.message) if finding.code.startswith("default-") else None
        if match is None:
            continue
        said = f"{match['what']} {match['value'].rstrip(',')}"
        if match["rows"]:
            lines[said] = lines.get(said, 0) + int(match["rows"])
        else:
            saw.append(said)
    taken = [*saw, *(f"{said} ({count} line{'s' * (count != 1)})" for said, count in lines.items())]
    meant = [
        finding.found
        for finding in dict.fromkeys(findings)
        if finding.code == "run-in-sections" and finding.severity is Severity.NOTE
    ]
    if meant:
        more = f" and {len(meant) - 1} more" if len(meant) > 1 else ""
        taken.append(
            f"{len(meant)} run{'s' * (len(meant) != 1)} longer than a bar made in sections ({meant[0]}{more})"
        )
    if any(finding.code == "read-as-pieces" for finding in findings):
        taken.append("the lengths are pieces as sawn, none made in sections")
    return f"Taken for granted: {'; '.join(taken)}." if taken else ""
