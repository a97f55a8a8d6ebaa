"""Warnings at the cells of what can be read exactly and is hardly meant."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from nesting.domain.request import Request
from nesting.errors import Where
from nesting.sheets.findings import Findings
from nesting.takeoff.in_sections import runs_in_sections
from nesting.takeoff.plausible import FREE_BAR, short_lines, unlikely_allowance
from nesting.units import Length, Unit, length_text


def check_short(request: Request, raw: Mapping[Where, str], findings: Findings) -> None:
    """
    Warn of pieces too short to be meant, with what else the cell could say.

    Parameters
    ----------
    raw
        What stood in the length cell of each line.
    """
    for line in short_lines(request):
        text = raw.get(line.where, "")
        otherwise = _otherwise(text, line.length)
        said = f"{line.words}{otherwise} Check it before anything is cut."
        findings.warning("very-short", line.where, text, said)


def check_long(request: Request, findings: Findings) -> None:
    """Say at its cell of each run longer than a bar how many sections it takes: one zero too many does it."""
    for long in runs_in_sections(request):
        findings.add(long.severity, long.code, long.where, long.found, long.message)


def check_saw_value(field: str, value: Length, where: Where, found: str, findings: Findings) -> None:
    """Warn of an allowance no saw has; it is taken as given."""
    if said := unlikely_allowance(field, value):
        findings.warning("saw-value-unlikely", where, found, said)


def check_free_bar(price: int | None, where: Where, found: str, findings: Findings) -> None:
    """Warn of a bar that costs nothing: every plan would take as many of it as it can."""
    if price == 0:
        findings.warning("price-zero", where, found, FREE_BAR)


def _otherwise(text: str, length: Length) -> str:
    """Say what else a cell could mean; empty when nothing comes to mind."""
    plain = re.sub(r"(?i)\s*(?:mm|in|inch|inches|\")$", "", text.strip())
    if match := re.fullmatch(r"([0-9]{1,3})\.([0-9]{3})", plain):
        return f" If the point parts thousands it is {int(match[1] + match[2])} mm."
    if re.fullmatch(r"[0-9]+ */ *[0-9]+", plain):
        return f" If whole inches are missing it is one such as 36 {plain} in."
    if re.fullmatch(r"[0-9]+(?:\.[0-9]+)?", plain) and Fraction(plain) * Unit.MM.nanometres == length:
        in_inches = Length(int(Fraction(plain) * Unit.INCH.nanometres))
        return f" In inches it would be {length_text(in_inches, Unit.MM)}."
    return ""
